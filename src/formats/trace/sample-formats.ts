/** How one binary sample is stored, little-endian. */
export interface SampleFormat {
  bytes: number;
  read(view: DataView, at: number): number;
}

export const SAMPLE_FORMATS = {
  // WAV's 8-bit samples are unsigned around 128; the others are signed. Integers are read as parts of full scale.
  pcm8: { bytes: 1, read: (v, at) => (v.getUint8(at) - 128) / 128 },
  pcm16: { bytes: 2, read: (v, at) => v.getInt16(at, true) / 32768 },
  pcm24: { bytes: 3, read: (v, at) => (v.getUint16(at, true) + v.getInt8(at + 2) * 65536) / 8388608 },
  pcm32: { bytes: 4, read: (v, at) => v.getInt32(at, true) / 2147483648 },
  int16: { bytes: 2, read: (v, at) => v.getInt16(at, true) },
  int32: { bytes: 4, read: (v, at) => v.getInt32(at, true) },
  float32: { bytes: 4, read: (v, at) => v.getFloat32(at, true) },
  float64: { bytes: 8, read: (v, at) => v.getFloat64(at, true) },
} as const satisfies Record<string, SampleFormat>;
