"""The questions, a module each; nothing but the server imports them."""
