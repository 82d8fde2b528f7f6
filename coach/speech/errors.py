"""What can go wrong with sound, in messages for users: what happened and what to do next."""


class AudioError(Exception):
    """Something about sound failed. `str(error)` is a sentence or two for the user."""


class DeviceError(AudioError):
    """No usable microphone or loudspeaker, or it disappeared."""


class ModelError(AudioError):
    """A speech model is missing, incomplete or broken."""


class SynthesisError(AudioError):
    """The coach cannot speak: no synthesiser, or it failed."""
