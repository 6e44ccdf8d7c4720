"""Job sheets: saved work that is handed on by two links, one to read and one to own."""
