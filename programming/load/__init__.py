"""Training load, computed: numpy only, so that a worker, a test or a notebook can use it alike.

It describes change. It does not predict injury, and nothing here knows a zone or a limit.
"""
