"""The shoulder with an undercut after DIN 509, which ISO 18388 calls a relief groove."""
