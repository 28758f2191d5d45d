import type { Chance } from '../../samples/seeded.js';
import { bent, joined, oneIn, pick, times, upTo } from './dice.js';

const NUMBERS = [
  '',
  '0',
  '-0',
  '90',
  '-90',
  '90.0001',
  '180',
  '-180',
  '1e3',
  '1E400',
  'NaN',
  'Infinity',
  '0x10',
  '1,5',
  ' 12 ',
  '+7',
  '..',
  '9'.repeat(400),
  '٣',
];
const ELEMENTS = [
  'trk',
  'trkseg',
  'trkpt',
  'ele',
  'time',
  'type',
  'speed',
  'rte',
  'wpt',
  'extensions',
  'x:y',
  'gpx',
  'metadata',
  'name',
];
const TYPES = [
  'cycling',
  'mountain_biking',
  'Running',
  '9',
  '',
  'swim',
  'x'.repeat(300),
  '🚲',
  'constructor',
  '__proto__',
];
const TEXTS = [
  '',
  ' ',
  '&amp;',
  '&#0;',
  '&#x110000;',
  '&lol;',
  '<![CDATA[<trkpt/>]]>',
  '<!-- - -->',
  '<?php ?>',
  ']]>',
  '\u0000',
  '\ud800',
  '\ufeff',
  '<',
  '&',
  '‮',
];
const ENCODINGS = ['UTF-8', 'utf-16', 'ISO-8859-1', 'windows-1252', 'UTF-7', '', 'x'.repeat(50)];

/** Returns a GPX file that is nearly one: sound in most of what it says, and wrong somewhere. */
export const gpxInput = (chance: Chance): Uint8Array => xmlInput(chance, gpx);

/** Returns what `root` writes, as a file that is nearly one. */
export function xmlInput(chance: Chance, root: (chance: Chance) => string): Uint8Array {
  const text = `${prolog(chance)}${oneIn(chance, 12) ? soup(chance) : root(chance)}${oneIn(chance, 12) ? soup(chance) : ''}`;
  const bytes = encoded(chance, text);
  return oneIn(chance, 2) ? bent(chance, bytes) : bytes;
}

function prolog(chance: Chance): string {
  if (oneIn(chance, 8)) return '';
  const doctype = oneIn(chance, 12) ? '<!DOCTYPE gpx [<!ENTITY lol "lol"><!ENTITY lot "&lol;&lol;">]>' : '';
  return `${oneIn(chance, 8) ? pick(chance, TEXTS) : ''}<?xml version="1.0" encoding="${oneIn(chance, 4) ? pick(chance, ENCODINGS) : 'UTF-8'}"?>${doctype}`;
}

export function gpx(chance: Chance): string {
  const namespace = oneIn(chance, 8)
    ? pick(chance, ['', 'x', 'http://www.topografix.com/GPX/1/0'])
    : 'http://www.topografix.com/GPX/1/1';
  const prefix = oneIn(chance, 8) ? 'g:' : '';
  const declared = prefix === '' ? `xmlns="${namespace}"` : `xmlns:g="${namespace}"`;
  const tracks = times(pick(chance, [0, 1, 1, 1, 2, 5]), () => track(chance, prefix)).join('');
  const end = oneIn(chance, 12) ? '' : `</${prefix}gpx>`;
  return `<${prefix}gpx version="1.1" creator="a test" ${declared}>${oneIn(chance, 10) ? soup(chance) : ''}${tracks}${end}`;
}

function track(chance: Chance, prefix: string): string {
  const type = oneIn(chance, 2) ? `<${prefix}type>${pick(chance, TYPES)}</${prefix}type>` : '';
  const segments = times(pick(chance, [0, 1, 1, 1, 3]), () => segment(chance, prefix)).join('');
  return `<${prefix}trk>${type}${segments}</${prefix}trk>`;
}

function segment(chance: Chance, prefix: string): string {
  let ms = Date.UTC(2021, 5, 1) + upTo(chance, 1e9);
  let lat = pick(chance, [0, 10, 45, 89.999, -12]);
  const lon = pick(chance, [0, 20, 179.9999, -180]);
  let ele = 100;
  const isOdd = oneIn(chance, 2);
  const isTimed = !oneIn(chance, 6);
  const count = pick(chance, oneIn(chance, 12) ? [60, 120] : [0, 1, 2, 8, 20, 40]);
  const points = times(count, () => {
    ms += isOdd && oneIn(chance, 8) ? pick(chance, [0, -1000, 60_000, 301_000, 86_400_000, 3e12]) : 1000;
    lat += isOdd && oneIn(chance, 20) ? chance.normal() : 0.000045 + chance.normal() * 1e-6;
    ele += chance.normal() * (isOdd && oneIn(chance, 20) ? 5000 : 0.4);
    return point(chance, prefix, isOdd, {
      lat,
      lon,
      ele,
      time: isTimed ? timeText(chance, ms, isOdd) : null,
    });
  });
  return `<${prefix}trkseg>${points.join('')}</${prefix}trkseg>`;
}

interface Point {
  readonly lat: number;
  readonly lon: number;
  readonly ele: number;
  readonly time: string | null;
}

function point(chance: Chance, prefix: string, isOdd: boolean, { lat, lon, ele, time }: Point): string {
  const or = (value: number): string =>
    isOdd && oneIn(chance, 25) ? pick(chance, NUMBERS) : value.toFixed(6);
  const stamp = time === null ? '' : `<${prefix}time>${time}</${prefix}time>`;
  const more = isOdd && oneIn(chance, 15) ? soup(chance) : '';
  return `<${prefix}trkpt lat="${or(lat)}" lon="${or(lon)}"><${prefix}ele>${or(ele)}</${prefix}ele>${stamp}${more}</${prefix}trkpt>`;
}

function timeText(chance: Chance, ms: number, isOdd: boolean): string {
  const iso = new Date(Math.min(ms, 8e15)).toISOString();
  if (!isOdd || !oneIn(chance, 15)) return iso;
  return pick(chance, [
    '',
    iso.slice(0, 19),
    `${iso.slice(0, 19)}+14:00`,
    '2021-02-30T25:61:61Z',
    '-0001-01-01T00:00:00Z',
    '99999-01-01T00:00:00Z',
    'yesterday',
    iso.replace('Z', '-99:99'),
    '1989-12-31T00:00:00Z',
  ]);
}

/** Elements in any order and depth, some of them never closed. */
function soup(chance: Chance): string {
  const open: string[] = [];
  let text = '';
  for (let left = upTo(chance, oneIn(chance, 10) ? 120 : 12); left > 0; left -= 1) {
    const name = pick(chance, ELEMENTS);
    if (oneIn(chance, 3) && open.length > 0) text += `</${oneIn(chance, 15) ? name : open.pop()}>`;
    else if (oneIn(chance, 3)) text += pick(chance, TEXTS);
    else {
      text += `<${name}${oneIn(chance, 4) ? ` lat="${pick(chance, NUMBERS)}" lon="${pick(chance, NUMBERS)}"` : ''}>`;
      open.push(name);
    }
  }
  while (open.length > 0 && !oneIn(chance, 15)) text += `</${open.pop()}>`;
  return text;
}

function encoded(chance: Chance, text: string): Uint8Array {
  switch (upTo(chance, 12)) {
    case 0:
      return joined(Uint8Array.of(0xff, 0xfe), Buffer.from(text, 'utf16le'));
    case 1:
      return joined(Uint8Array.of(0xfe, 0xff), Buffer.from(text, 'utf16le').swap16());
    case 2:
      return joined(Uint8Array.of(0xef, 0xbb, 0xbf), Buffer.from(text));
    case 3:
      return Buffer.from(text, 'latin1');
    default:
      return Buffer.from(text);
  }
}
