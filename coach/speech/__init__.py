"""Sound without devices: no device, clock or thread of its own accord; time is counted in samples."""
