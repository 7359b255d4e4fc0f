"""The log as comma-separated values (RFC 4180): out of an old spreadsheet, and into a new one."""
