"""An invented shop to try things on: two touring artists, a customer, five honestly imperfect boards."""
