// What is due today at this farm, and a cow's history.

import { ask } from '../core.js';
import { by, el, said } from '../dom.js';
import * as clock from '../clock.js';
import { set } from '../ui.js';

const farm = () => set.farm.trim() || null;

export function start() {
  by('look').addEventListener('submit', (event) => {
    event.preventDefault();
    cow(by('look-cow').value.trim());
  });
}

export function show() {
  const { items, nothing, left } = ask({ due: { today: clock.today(), farm: farm() } });
  const late = items.filter((item) => item.late);
  const come = items.filter((item) => !item.late);
  by('due-list').replaceChildren(
    ...list('Overdue', late),
    ...list('Due', come),
    !items.length ? el('p', {}, nothing ? sentence(nothing) : 'Nothing is due today.') : '',
    left ? el('p', { class: 'left' }, left) : '',
  );
}

const sentence = (text) => `${text.charAt(0).toUpperCase()}${text.slice(1).replaceAll('`', '"')}.`;

function list(head, items) {
  if (!items.length) return [];
  const line = (item) =>
    el('li', {}, el('strong', {}, 'cow ', said(item.cow)), ` ${item.what}`, item.place && `, ${item.place}`, el('span', { class: 'brief' }, [
      `since ${item.day}`, item.about, !farm() && item.farm,
    ].filter(Boolean).join('; ')));
  return [el('h3', {}, head), el('ul', { class: 'lines' }, items.map(line))];
}

function cow(number) {
  if (!number) return by('look-cow').focus();
  const { told, nothing, left } = ask({ cow: { cow: number, farm: farm(), today: clock.today() } });
  by('look-told').replaceChildren(
    ...told.flatMap((at) => [
      el('h3', {}, said(at.head)),
      ...rows('visits', at.visits),
      ...rows('lesions', at.lesions),
      ...rows('blocks and wraps', at.devices),
    ]),
    nothing ? el('p', {}, sentence(nothing)) : '',
    left ? el('p', { class: 'left' }, left) : '',
  );
}

function rows(head, all) {
  if (!all.length) return [];
  const list = el('dl', { class: 'rows' });
  let day = '';
  for (const [first, second, third] of all) {
    const name = head === 'visits' ? first : `${first}: ${second}`;
    if (name && name !== day) list.append(el('dt', {}, name));
    day = name || day;
    list.append(el('dd', {}, said(head === 'visits' && second ? `${second}: ${third}` : third)));
  }
  return [el('h4', {}, head), list];
}
