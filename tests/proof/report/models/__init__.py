"""The models of the service with what was published of them, a module for each group."""
