"""Questions about whole operations: plans, boring, grooving, parting, drilling."""
