"""Series, designations and limits of size, built in and the workshop's own."""
