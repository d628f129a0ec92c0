"""Models of requests and answers, one module per subject."""
