// Notes that are read before anybody says one, word by word as they would arrive: a browser makes code fast only while
// it is used, and the core remembers what it found in sounds. Nothing of them is kept or shown.

import { ask, Refused } from './core.js';
import { visit } from './ui.js';

/** As a recogniser writes them, so that every part of hearing is used. */
const NOTES = [
  'Cal 412, right rear out her, soul ulcer zone four, block enter, rap.',
  'Count 231 left hind, white line abs this zone 3 outer, drained it, re-check in four weeks.',
  'how ten sixty two both hines, digital dermatitis em two, sprayed and rapped, the rest is clean.',
  'Cow 516 all four trimmed locomotion score 3, toe length three inches, no lesions.',
  'kow 88 front left inner, cork screw claw, thin soles, took it down, block the out her.',
  'Four oh seven right hind, foul in the foot, fever is 104, call the vet.',
  'Cow 33, left rear inner sole hemorrhage grade 2, same on the right, recheck in thirty days.',
  '231 block off, ulcer is healing, walks better, hairy wart on the left hind M for, no not left, right hind.',
];

const said = NOTES.flatMap((note) => {
  const words = note.split(' ');
  return words.map((_, n) => words.slice(0, n + 1).join(' '));
});

/** Reads the next of them; gives whether that was the last. */
export function practise() {
  const text = said.shift();
  if (!text) return true;
  try {
    ask({ read: { text, visit: visit() } });
  } catch (why) {
    // Where no visit can be read for, there is nothing to practise.
    if (why instanceof Refused) return true;
    throw why;
  }
  return said.length === 0;
}
