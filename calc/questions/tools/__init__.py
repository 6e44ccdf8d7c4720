"""Questions about insert, holder and nose."""
