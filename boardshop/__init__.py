"""Boardshop: a workshop book for guitar technicians who build and keep pedalboards."""

__version__ = "0.1.0"
