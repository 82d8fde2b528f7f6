"""The child process that speaks into files: `python -m coach.speech.voice.tts_worker`.

One JSON object a line on stdin, one line back on stdout for each:
    {"text", "path", "voice", "rate", "pitch", "volume"}  ->  {"ok": true} or {"error": "..."}
    {"voices": true}                                      ->  {"ok": true, "voices": [names]}
The first line out says whether there is a synthesiser at all. The end of stdin ends it.

Why a process of its own: pyttsx3's event loop can hang, its `say` plays through a player that cannot
be stopped, and a fault of the speech library would take the lesson with it. Here it only ever writes
files, and whoever waits for it can end it.
"""

import contextlib
import json
import os
import sys
import time
from pathlib import Path
from typing import Any, TextIO

_STALL = 20.0  # seconds to wait for a finished file; the parent gives up earlier
_SETTINGS = 20  # try a setting this many times, then speak with what it is


def main() -> None:
    """Serve requests until stdin ends."""
    replies = _take_stdout()
    try:
        import pyttsx3

        engine = pyttsx3.init()
        # Only once: after espeak-ng has listed its voices it is slow to take a new rate.
        voices = [str(voice.id) for voice in engine.getProperty("voices")]
    except Exception as error:  # whatever the driver raises, it cannot speak
        _send(replies, {"error": f"no speech synthesiser ({error})"})
        return
    now: dict[str, Any] = {}  # the current settings
    ends: list[str] = []  # "" once the utterance is done, or what went wrong

    def finished(completed: bool = False, **_: object) -> None:
        # Without `completed` it is the stop event of an earlier utterance, which pyttsx3 delivers late.
        if completed:
            ends.append("")

    def failed(exception: object = None, **_: object) -> None:
        ends.append(str(exception) or "unknown error")

    engine.connect("finished-utterance", finished)
    engine.connect("error", failed)
    _send(replies, {"ok": True})
    for line in sys.stdin:
        try:
            _send(replies, _answer(engine, voices, ends, now, json.loads(line)))
        except Exception as error:
            _send(replies, {"error": f"{type(error).__name__}: {error}"})


def _answer(
    engine: Any, voices: list[str], ends: list[str], now: dict[str, Any], request: dict[str, Any]
) -> dict[str, Any]:
    if request.get("voices"):
        return {"ok": True, "voices": voices}
    # espeak-ng takes some unknown names for another language's voice, and pyttsx3 does not check either.
    name = str(request["voice"]).split("+")[0].lower()
    if not any(name in (voice, voice.rpartition("/")[2]) for voice in voices):
        return {"error": f"no voice {request['voice']}"}
    _sound_like(engine, {name: request[name] for name in ("voice", "rate", "pitch", "volume")}, now)
    final = Path(request["path"])
    aside = final.with_suffix(".part")
    ends.clear()
    engine.save_to_file(request["text"], str(aside))
    engine.runAndWait()
    # runAndWait may return before the file is there, and errors are reported only as events.
    patience = time.monotonic() + _STALL
    while not ends:
        if time.monotonic() > patience:
            return {"error": "the synthesiser did not finish"}
        time.sleep(0.005)
    if problem := next(filter(None, ends), ""):
        return {"error": problem}
    aside.rename(final)
    return {"ok": True}


def _sound_like(engine: Any, wanted: dict[str, Any], now: dict[str, Any]) -> None:
    """Apply the settings that differ from `now`, repeating until they hold: espeak-ng does it in its own thread, and on
    a busy machine loses a setting for good in about one of twenty processes."""
    if wanted == now:
        return
    for _ in range(_SETTINGS):
        for name, value in wanted.items():
            engine.setProperty(name, value)
        engine.runAndWait()
        if _taken(wanted):
            break
    now.update(wanted)


def _taken(wanted: dict[str, Any]) -> bool:
    """Whether espeak-ng has the wanted settings; any other synthesiser is trusted."""
    try:
        from pyttsx3.drivers import _espeak

        _espeak.Synchronize()  # speech that begins before a setting is applied keeps the old one
        current = _espeak.dll.espeak_GetParameter  # pyttsx3's own wrapper forgets to ask for the current value
    except (ImportError, AttributeError, OSError):
        return True
    rate, volume, pitch = (current(each, 1) for each in (_espeak.RATE, _espeak.VOLUME, _espeak.PITCH))
    loud = round(wanted["volume"] * 100)
    return bool(rate == wanted["rate"] and abs(volume - loud) <= 1 and pitch == int(wanted["pitch"]))


def _take_stdout() -> TextIO:
    """The real stdout, for replies; prints from inside the library go to stderr from now on."""
    replies = os.fdopen(os.dup(1), "w", encoding="utf-8")
    os.dup2(2, 1)
    return replies


def _send(replies: TextIO, reply: dict[str, Any]) -> None:
    replies.write(json.dumps(reply) + "\n")
    replies.flush()


if __name__ == "__main__":
    with contextlib.suppress(KeyboardInterrupt, BrokenPipeError):
        main()
    os._exit(0)  # the speech library may fail an assertion on an orderly unload
