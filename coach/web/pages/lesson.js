// The learner's page: joins, shows whose turn it is and what is said, and sends what is said or typed.

import { Line } from "./line.js";
import { Loudspeaker } from "./loudspeaker.js";

const $ = (id) => document.getElementById(id);
const TURNS = { speaking: "The coach speaks", listening: "The coach listens", waiting: "One moment" };
const ENDS = {
  done: "Done: well worked!",
  stopped: "The lesson is over",
  unsolvable: "This cube cannot be solved as it is",
  broken: "The lesson could not go on",
};
const NO_SECURE = "Browsers give no microphone to a page whose address begins with http, except on the coach's own " +
  "machine. You can start by typing: the coach speaks, and you type.";
const NO_MICROPHONE = "The microphone cannot be used. Allow it in your browser's settings for this page and start again, " +
  "or start by typing.";
const LOST = "The connection is lost. Trying to come back.";
const GONE = "The connection did not come back. Start again: with a nickname you go on where you were.";

let line, loudspeaker, context, stream, awake;
let quiet = false;
let turn = "waiting";
let waitingNotices = [];

function show(section) {
  for (const each of ["door", "lesson", "after"]) $(each).hidden = each !== section;
}

function setTurn(now) {
  turn = now;
  $("turn").dataset.turn = now;
  $("turn-words").textContent = TURNS[now];
  if (now !== "speaking") waitingNotices.splice(0).forEach(notify);
}

// A status message is read aloud by screen readers, so it waits until the coach is silent.
function notify(text) {
  if (turn === "speaking" && !quiet) waitingNotices.push(text);
  else $("notice").textContent = text;
}

// The coach's own voice says the captions; without it they are announced.
function setQuiet(now) {
  quiet = now;
  loudspeaker.quiet = now;
  $("quiet").setAttribute("aria-pressed", String(now));
  $("caption").setAttribute("aria-live", now || !loudspeaker.audible ? "polite" : "off");
}

async function openMicrophone() {
  const headphones = $("headphones").checked;
  stream = await navigator.mediaDevices.getUserMedia({
    audio: { channelCount: 1, echoCancellation: !headphones, noiseSuppression: false, autoGainControl: true },
  });
  await context.audioWorklet.addModule("/static/microphone.js");
  const microphone = new AudioWorkletNode(context, "microphone", { numberOfOutputs: 0, channelCount: 1, channelCountMode: "explicit" });
  microphone.port.onmessage = ({ data }) => {
    line?.sound(data.frame);
    // From -60 dB on, since loudness is heard in dB.
    $("meter").value = Math.max(0, 1 + Math.log10(Math.max(data.peak, 1e-6)) / 3);
  };
  context.createMediaStreamSource(stream).connect(microphone);
}

function closeSound() {
  stream?.getTracks().forEach((track) => track.stop());
  context?.close();
  awake?.release();
  stream = context = awake = null;
}

async function stayAwake() {
  try {
    awake = await navigator.wakeLock?.request("screen");
  } catch {
    // Not allowed on this device: the learner touches the screen now and then.
  }
}

async function start(byVoice) {
  if (!$("join").reportValidity()) return;
  $("door-notice").textContent = "";
  setButtons(false);
  try {
    if (byVoice && !window.isSecureContext) throw new Error(NO_SECURE);
    context = window.AudioContext ? new AudioContext() : null;
    await Promise.race([context?.resume(), new Promise((done) => setTimeout(done, 1000))]);
    if (byVoice) await openMicrophone().catch(() => { throw new Error(NO_MICROPHONE); });
    join(byVoice);
  } catch (problem) {
    closeSound();
    $("door-notice").textContent = problem.message;
    setButtons(true);
  }
}

function setButtons(usable) {
  for (const id of ["by-voice", "typed"]) $(id).disabled = !usable;
}

function join(byVoice) {
  const code = $("code").value, name = $("name").value.trim();
  loudspeaker = new Loudspeaker(context, (utterance, samples) => line.send({ kind: "played", utterance, samples }));
  const known = JSON.parse(sessionStorage.getItem("lesson") ?? "{}");
  const resume = known.name === name && known.byVoice === byVoice ? known.resume : "";
  line = new Line({ code, name, microphone: byVoice, headphones: $("headphones").checked, resume }, {
    welcome({ resume, rate }) {
      sessionStorage.setItem("lesson", JSON.stringify({ code, name, byVoice, resume }));
      loudspeaker.voiceRate = rate;
      if ($("lesson").hidden) begin(byVoice);
      notify("");
    },
    say({ utterance, text }) {
      loudspeaker.begin(utterance);
      $("caption").textContent = text;
    },
    sound: (utterance, offset, pcm) => loudspeaker.play(utterance, offset, pcm),
    flush: ({ utterance }) => loudspeaker.flush(utterance),
    speaking: () => setTurn("speaking"),
    listening: () => setTurn("listening"),
    heard({ text }) {
      $("heard").hidden = false;
      $("heard-text").textContent = text;
    },
    tell: ({ text }) => notify(text),
    end: ({ outcome }) => finish(ENDS[outcome] ?? ENDS.stopped),
    refused({ why }) {
      if ($("lesson").hidden) stay(why);
      else finish(ENDS.stopped, why);
    },
    lost() {
      loudspeaker.silence();
      setTurn("waiting");
      notify(LOST);
    },
    closed: () => ($("lesson").hidden ? stay(GONE) : finish(ENDS.stopped, GONE)),
  });
}

// The lesson has not begun: the learner is still at the door.
function stay(why) {
  closeSound();
  setButtons(true);
  $("door-notice").textContent = why;
}

function begin(byVoice) {
  $("level").hidden = !byVoice;
  $("heard").hidden = true;
  $("caption").textContent = "";
  $("notice").textContent = "";
  show("lesson");
  setTurn("waiting");
  setQuiet(false);
  (byVoice ? $("caption") : $("answer")).focus();
  stayAwake();
}

function finish(title, why = "") {
  loudspeaker.silence();
  closeSound();
  sessionStorage.removeItem("lesson");
  $("after-title").textContent = title;
  $("last-words").textContent = $("caption").textContent;
  $("after-notice").textContent = [why, ...waitingNotices.splice(0), $("notice").textContent].filter(Boolean).join(" ");
  show("after");
  $("after-title").focus();
}

$("join").addEventListener("submit", (event) => {
  event.preventDefault();
  start(true);
});
$("typed").addEventListener("click", () => start(false));
$("answering").addEventListener("submit", (event) => {
  event.preventDefault();
  const text = $("answer").value.trim();
  $("answer").value = "";
  line.send({ kind: "answer", text });
});
$("quiet").addEventListener("click", () => setQuiet(!quiet));
$("leave").addEventListener("click", () => {
  line.leave();
  finish(ENDS.stopped);
});
$("again").addEventListener("click", () => {
  setButtons(true);
  show("door");
  $("code").focus();
});

const known = JSON.parse(sessionStorage.getItem("lesson") ?? "{}");
$("code").value = known.code ?? "";
$("name").value = known.name ?? "";
if (!window.isSecureContext) $("door-notice").textContent = NO_SECURE;
