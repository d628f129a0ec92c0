"""The freeze map: heat conducted out of a casting cell by cell, and what freezes last."""
