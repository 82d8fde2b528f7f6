// Changes the rate of a stream of samples with a windowed sinc. Feed it blocks of any length.

const ZERO_CROSSINGS = 16;
const CUTOFF = 0.92; // of the lower Nyquist frequency, to leave room for the slope
const BETA = 8.6; // Kaiser window

function besselI0(x) {
  let sum = 1, term = 1;
  for (let k = 1; k < 40; k++) {
    term *= (x / (2 * k)) ** 2;
    sum += term;
  }
  return sum;
}

function divisor(a, b) {
  return b ? divisor(b, a % b) : a;
}

function rowsOfTaps(up, down) {
  const cutoff = CUTOFF * Math.min(1, up / down);
  const half = Math.ceil(ZERO_CROSSINGS / cutoff);
  return Array.from({ length: up }, (_, phase) => {
    const taps = Float32Array.from({ length: 2 * half }, (_, i) => {
      const x = i - half + 1 - phase / up;
      const arc = Math.PI * cutoff * x;
      return (x ? Math.sin(arc) / arc : 1) * besselI0(BETA * Math.sqrt(Math.max(0, 1 - (x / half) ** 2)));
    });
    const sum = taps.reduce((a, b) => a + b);
    return taps.map((tap) => tap / sum);
  });
}

export class Resampler {
  constructor(fromRate, toRate) {
    const common = divisor(fromRate, toRate);
    this.up = toRate / common;
    this.down = fromRate / common;
    this.rows = rowsOfTaps(this.up, this.down);
    this.width = this.rows[0].length;
    this.held = new Float32Array(this.width / 2 - 1);
    this.next = 0; // the next sample's position, in 1/up samples from the first held one
  }

  // The samples that this block completes.
  feed(block) {
    const held = new Float32Array(this.held.length + block.length);
    held.set(this.held);
    held.set(block, this.held.length);
    const out = [];
    for (let start; (start = Math.floor(this.next / this.up)) + this.width <= held.length; this.next += this.down) {
      const taps = this.rows[this.next % this.up];
      let sum = 0;
      for (let i = 0; i < this.width; i++) sum += taps[i] * held[start + i];
      out.push(sum);
    }
    const done = Math.min(Math.floor(this.next / this.up), held.length);
    this.held = held.slice(done);
    this.next -= done * this.up;
    return Float32Array.from(out);
  }
}
