// The connection to the server: what goes over it is described in coach/web/protocol.py.

const VERSION = 1;
const FROM_LEARNER = 1;
const FROM_COACH = 2;
const PATIENCE_MS = 30000;
const RETRY_MS = 1000;
const MOST_UNSENT = 32000; // bytes; sound that would wait longer is dropped: a second of it

export class Line {
  // `on` has a function for each kind of message, and `sound`, `lost`, `closed(why)`.
  constructor(hello, on) {
    this.hello = { kind: "hello", version: VERSION, ...hello };
    this.on = on;
    this.sequence = 0;
    this.over = false;
    this.open();
  }

  open() {
    const scheme = location.protocol === "https:" ? "wss" : "ws";
    const socket = (this.socket = new WebSocket(`${scheme}://${location.host}/lesson`));
    socket.binaryType = "arraybuffer";
    socket.onopen = () => {
      this.sequence = 0;
      this.send(this.hello);
    };
    socket.onmessage = ({ data }) => this.over || (typeof data === "string" ? this.message(JSON.parse(data)) : this.voice(data));
    socket.onclose = () => this.over || this.retry();
  }

  message(message) {
    if (message.kind === "welcome") {
      this.lostAt = null;
      this.hello.resume = message.resume;
    }
    if (message.kind === "end" || message.kind === "refused") this.over = true;
    this.on[message.kind]?.(message);
  }

  voice(data) {
    const view = new DataView(data);
    if (view.getUint8(0) !== FROM_COACH) return;
    this.on.sound(view.getUint32(1, true), view.getUint32(5, true), new Int16Array(data.slice(9)));
  }

  retry() {
    if (!this.lostAt) {
      this.lostAt = performance.now();
      this.on.lost();
    }
    if (performance.now() - this.lostAt > PATIENCE_MS) {
      this.over = true;
      this.on.closed();
    } else {
      setTimeout(() => this.over || this.open(), RETRY_MS);
    }
  }

  send(message) {
    if (this.socket.readyState === WebSocket.OPEN) this.socket.send(JSON.stringify(message));
  }

  sound(frame) {
    if (this.socket.readyState !== WebSocket.OPEN || this.lostAt || !this.hello.resume) return;
    const sequence = this.sequence++;
    if (this.socket.bufferedAmount > MOST_UNSENT) return;
    const data = new ArrayBuffer(5 + frame.byteLength);
    const view = new DataView(data);
    view.setUint8(0, FROM_LEARNER);
    view.setUint32(1, sequence, true);
    new Uint8Array(data, 5).set(new Uint8Array(frame.buffer));
    this.socket.send(data);
  }

  leave() {
    this.send({ kind: "bye" });
    this.over = true;
    this.socket.close();
  }
}
