"""Mail: a row first, in the transaction of what it is about; a worker sends it."""
