"""What can go wrong with sound, in words for people: what happened and what to do next."""


class AudioError(Exception):
    """Something about sound did not work. `str(error)` is a sentence or two for the user."""


class DeviceError(AudioError):
    """No usable microphone or loudspeaker, or it went away."""


class ModelError(AudioError):
    """A speech model is missing, incomplete or broken."""


class SynthesisError(AudioError):
    """The coach cannot speak: no synthesiser, or it failed."""
