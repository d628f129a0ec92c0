"""Pourwright's service: one calculation engine for small foundries behind a REST API."""
