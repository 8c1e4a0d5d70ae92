// Reading back aloud, when wanted.

export const canSpeak = () => 'speechSynthesis' in window;

/** Something was said since it was hushed last. */
let saying = false;

/** Says it, instead of what is being said. */
export function say(text) {
  if (!canSpeak()) return;
  speechSynthesis.cancel();
  const spoken = new SpeechSynthesisUtterance(text);
  spoken.lang = 'en';
  speechSynthesis.speak(spoken);
  saying = true;
}

/** Stops what is being said. It is called at every word that arrives, and to ask the browser takes its time. */
export function hush() {
  if (saying) speechSynthesis.cancel();
  saying = false;
}

/** A card in words for the ear; what is open is asked at its end. */
export function spoken(card) {
  const parts = [card.cow ? `cow ${card.cow}` : 'cow not known'];
  let place = '';
  for (const row of card.rows) {
    parts.push(row.place === place ? row.text : `${row.place}, ${row.text}`);
    place = row.place;
  }
  for (const question of card.questions) {
    parts.push(`question: ${question.message}`);
    if (question.choices.length) parts.push(question.choices.join(', or '));
  }
  return parts.join('. ').replaceAll('`', '');
}
