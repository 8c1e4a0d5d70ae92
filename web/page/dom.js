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

/** Gives a parent these children; those that are alike, from the first on and from the last back, stay as they stand. */
export function renew(parent, children) {
  const old = [...parent.childNodes];
  const most = Math.min(old.length, children.length);
  let first = 0;
  while (first < most && old[first].isEqualNode(children[first])) first += 1;
  let last = 0;
  while (last < most - first && old.at(-1 - last).isEqualNode(children.at(-1 - last))) last += 1;
  old.slice(first, old.length - last).forEach((child) => child.remove());
  const before = last ? old.at(-last) : null;
  children.slice(first, children.length - last).forEach((child) => parent.insertBefore(child, before));
}
