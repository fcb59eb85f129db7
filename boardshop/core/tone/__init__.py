"""What cable and inputs do to the treble of each instrument, up to the first stage that drives."""
