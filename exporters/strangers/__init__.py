"""A stranger's archive and XML."""
