"""Speech processing without devices: no device, clock or thread of its own; time is counted in samples."""
