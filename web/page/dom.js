// Making elements. Text goes in as text only: nothing that was said or loaded ever becomes markup.

/** An element with attributes (`on…` are listeners, `false` and `null` leave out) and children (elements or text). */
export function el(tag, attributes = {}, ...children) {
  return fill(document.createElement(tag), attributes, children);
}

/** The same for drawings. */
export function svg(tag, attributes = {}, ...children) {
  return fill(document.createElementNS('http://www.w3.org/2000/svg', tag), attributes, children);
}

function fill(element, attributes, children) {
  for (const [name, value] of Object.entries(attributes)) {
    if (name.startsWith('on')) element.addEventListener(name.slice(2), value);
    else if (value !== false && value !== null && value !== undefined) {
      element.setAttribute(name, value === true ? '' : value);
    }
  }
  element.append(...children.flat().filter((c) => c !== null && c !== undefined && c !== false));
  return element;
}

/** A button with words on it. */
export function button(label, act, attributes = {}) {
  return el('button', { type: 'button', onclick: act, ...attributes }, label);
}

export const by = (id) => document.getElementById(id);

/** Text of the user's by itself: its own direction, so that marks in it turn nothing around it. */
export function said(text, tag = 'bdi', attributes = {}) {
  return el(tag, { dir: 'auto', ...attributes }, text);
}

/** A message of the core: what it quotes in back-ticks stands by itself. */
export function message(text) {
  return text.split('`').map((part, i) => (i % 2 ? el('q', {}, said(part)) : part));
}

/** What the children of a parent were made from. */
const made = new WeakMap();

/**
 * Gives a parent one child for each part, made by `make`. Children whose parts are as they were, from the first on and
 * from the last back, stay as they stand; of the others those that `alter(child, part)` can make say what is now said.
 * The parent has no other children.
 */
export function renew(parent, parts, make, alter = () => false) {
  const now = parts.map((part) => JSON.stringify(part));
  const was = made.get(parent) ?? [];
  made.set(parent, now);
  const most = Math.min(was.length, now.length);
  let first = 0;
  while (first < most && was[first] === now[first]) first += 1;
  let last = 0;
  while (last < most - first && was.at(-1 - last) === now.at(-1 - last)) last += 1;
  const old = [...parent.childNodes];
  const before = old[was.length - last] ?? null;
  const changed = old.slice(first, was.length - last);
  for (const part of parts.slice(first, parts.length - last)) {
    const child = changed.shift();
    if (child && alter(child, part)) continue;
    parent.insertBefore(make(part), child ?? before);
    child?.remove();
  }
  changed.forEach((child) => child.remove());
}
