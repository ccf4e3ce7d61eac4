import type { TallyAct } from '#shared/tally.ts';

/** Pitches [Hz] told apart by ear, so that the eye can stay at the microscope. */
const pitches: Record<Exclude<TallyAct, 'leave'>, number> = {
  live: 880,
  dead: 520,
  bud: 660,
  undo: 300,
  next: 400,
};
const tickSeconds = 0.04;
const targetPitches = [990, 1320];

let context: AudioContext | undefined;

// A browser lets a page sound only after a key or tap, so the context waits for the first.
function sounding(): AudioContext | undefined {
  if (typeof AudioContext === 'undefined') return undefined;
  context ??= new AudioContext();
  if (context.state === 'suspended') void context.resume();
  return context;
}

function tone(frequency: number, after: number, seconds: number) {
  const audio = sounding();
  if (audio === undefined) return;
  const oscillator = audio.createOscillator();
  const loudness = audio.createGain();
  const start = audio.currentTime + after;
  oscillator.frequency.value = frequency;
  loudness.gain.setValueAtTime(0.2, start);
  // A short fade keeps the end from clicking, which would sound like another cell.
  loudness.gain.linearRampToValueAtTime(0, start + seconds);
  oscillator.connect(loudness).connect(audio.destination);
  oscillator.start(start);
  oscillator.stop(start + seconds);
}

export function tick(act: Exclude<TallyAct, 'leave'>): void {
  tone(pitches[act], 0, tickSeconds);
}

/** The double tone that says enough has been counted. */
export function chime(): void {
  for (const [nth, frequency] of targetPitches.entries()) tone(frequency, 0.1 + nth * 0.18, 0.14);
}
