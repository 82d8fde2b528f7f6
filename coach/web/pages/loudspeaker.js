// The coach's voice: plays the frames of one utterance after the other, and reports how much has been heard.

import { Resampler } from "./resample.js";

const AHEAD = 0.05; // seconds before a sound that begins
const REPORT_MS = 100;

export class Loudspeaker {
  // `report(utterance, samples)`: so much of it has been heard.
  constructor(context, report) {
    this.context = context;
    this.report = report;
    this.gain = context?.createGain();
    this.gain?.connect(context.destination);
    this.utterance = 0;
    this.reset();
    setInterval(() => this.tell(), REPORT_MS);
  }

  set quiet(quiet) {
    if (this.gain) this.gain.gain.value = quiet ? 0 : 1;
  }

  // Everything from now on belongs to this utterance, perhaps once more.
  begin(utterance) {
    this.silence();
    this.utterance = utterance;
    this.flushed = false;
  }

  flush(utterance) {
    if (utterance !== this.utterance) return;
    this.silence();
    this.flushed = true;
  }

  play(utterance, offset, pcm) {
    if (utterance !== this.utterance || this.flushed) return; // too late
    const at = Math.max(this.until, this.now + AHEAD);
    const lasts = this.audible ? this.schedule(at, pcm) : pcm.length / this.voiceRate;
    this.pieces.push({ at, offset, samples: pcm.length });
    this.until = at + lasts;
  }

  schedule(at, pcm) {
    const rate = this.context.sampleRate;
    this.resampler ??= new Resampler(this.voiceRate, rate);
    const signal = this.resampler.feed(Float32Array.from(pcm, (sample) => sample / 32768));
    if (!signal.length) return 0;
    const buffer = this.context.createBuffer(1, signal.length, rate);
    buffer.copyToChannel(signal, 0);
    const source = this.context.createBufferSource();
    source.buffer = buffer;
    source.connect(this.gain);
    source.start(at);
    source.onended = () => this.sources.delete(source);
    this.sources.add(source);
    return signal.length / rate;
  }

  silence() {
    for (const source of this.sources ?? []) source.stop();
    this.reset();
  }

  reset() {
    this.sources = new Set();
    this.pieces = []; // what is scheduled, and when it begins
    this.until = 0;
    this.heard = -1;
    this.resampler = null;
  }

  tell() {
    const now = this.now - (this.audible ? this.context.outputLatency || 0 : 0);
    while (this.pieces.length > 1 && this.pieces[1].at <= now) this.pieces.shift();
    const [piece] = this.pieces;
    if (!piece || piece.at > now) return;
    const passed = Math.round((now - piece.at) * this.voiceRate);
    const heard = piece.offset + Math.min(piece.samples, passed);
    if (heard === this.heard) return;
    this.heard = heard;
    this.report(this.utterance, heard);
  }

  // A browser that gives no sound still reads along: the time passes as if it were heard.
  get audible() {
    return this.context?.state === "running";
  }

  get now() {
    return this.audible ? this.context.currentTime : performance.now() / 1000;
  }
}
