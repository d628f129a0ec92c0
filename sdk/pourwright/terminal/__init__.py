"""The terminal face: answers as text for people who do not write Python."""
