"""The calculation engine: tables, formulas, geometry, assess, decide. It knows nothing of the web."""
