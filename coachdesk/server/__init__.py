"""The web server: an event loop that waits for slow clients, and threads that only work.

`protocol` bounds each connection, `gate` each request, `request_body` what a request brings.
"""
