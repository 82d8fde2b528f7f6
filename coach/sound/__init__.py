"""This machine's microphone and loudspeaker."""
