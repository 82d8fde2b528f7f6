// The microphone, in the browser's audio thread: from the device's own rate to frames of 20 ms at 16 kHz.

import { Resampler } from "./resample.js";

const RATE = 16000;
const SAMPLES = 320;

class Microphone extends AudioWorkletProcessor {
  constructor() {
    super();
    this.resampler = new Resampler(sampleRate, RATE);
    this.frame = new Int16Array(SAMPLES);
    this.filled = 0;
    this.peak = 0;
  }

  process([input]) {
    if (input.length) for (const sample of this.resampler.feed(input[0])) this.add(sample);
    return true;
  }

  add(sample) {
    this.peak = Math.max(this.peak, Math.abs(sample));
    this.frame[this.filled++] = Math.max(-32768, Math.min(32767, Math.round(sample * 32768)));
    if (this.filled < SAMPLES) return;
    this.port.postMessage({ frame: this.frame, peak: this.peak }, [this.frame.buffer]);
    this.frame = new Int16Array(SAMPLES);
    this.filled = this.peak = 0;
  }
}

registerProcessor("microphone", Microphone);
