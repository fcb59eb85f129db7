"""Secrets that stand in a link: given out once, of which only the digest is kept."""

import hashlib
import secrets


def new_token() -> str:
    """192 random bits, safe in an address."""
    return secrets.token_urlsafe(24)


def digest_of(token: str) -> str:
    return hashlib.sha256(token.encode()).hexdigest()
