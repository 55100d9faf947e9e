// The microphone as int16 samples at 16 kHz, 30 ms at a time as a microphone of the machine gives them: the reply waits for no more.
const RATE_HZ = 16000;
const SAMPLES = 480;

class Microphone extends AudioWorkletProcessor {
  constructor() {
    super();
    this.block = new Int16Array(SAMPLES);
    this.filled = 0;
    this.sum = 0;
    this.count = 0;
    this.phase = 0;
  }

  // Each sample is the mean of those that the microphone gave in its time.
  process([[channel]]) {
    for (const value of channel || []) {
      this.sum += value;
      this.count += 1;
      this.phase += RATE_HZ / sampleRate;
      if (this.phase < 1) continue;
      this.phase -= 1;
      this.block[this.filled++] = Math.max(-1, Math.min(1, this.sum / this.count)) * 32767;
      this.sum = this.count = 0;
      if (this.filled === SAMPLES) {
        this.port.postMessage(this.block.slice());
        this.filled = 0;
      }
    }
    return true;
  }
}

registerProcessor("microphone", Microphone);
