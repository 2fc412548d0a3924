"""Routes, schemas and problems: turns HTTP into use cases and back."""
