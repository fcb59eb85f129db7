"""How people show who they are: passwords, passkeys, codes and devices.

The library that checks them is configured in settings.py; what it is told to do differently stands here.
"""
