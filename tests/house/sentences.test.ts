/** What explains the code is said in short sentences. */
import { readdirSync, readFileSync } from 'node:fs';
import { join, resolve } from 'node:path';
import { expect, it } from 'vitest';

const ROOT = resolve(import.meta.dirname, '../..');
/** To the next stop of any kind, and to the full stop. */
const MOST_WORDS = 25;
const MOST_WORDS_IN_ALL = 40;

const files = ['src', 'workers', 'migrations', 'samples'].flatMap((folder) =>
  readdirSync(join(ROOT, folder), { recursive: true, encoding: 'utf8' })
    .filter((file) => file.endsWith('.ts'))
    .map((file) => join(folder, file)),
);

const sentencesOf = (comment: string, ends: RegExp): string[] =>
  comment
    .replace(/^\s*(\/\*\*|\*\/|\*|\/\/)|\*\/\s*$/gm, '')
    .split(/\n\s*\n|\n\s*- |\n\s*(?=(?:Units|Shape|Errors|Source):)/)
    .flatMap((part) => part.replace(/\s+/g, ' ').split(ends));

const wordsIn = (sentence: string): number => sentence.split(' ').filter((word) => /\w/.test(word)).length;

it.each([
  [/(?<=[.;:!?])\s/, MOST_WORDS],
  [/(?<=[.!?])\s/, MOST_WORDS_IN_ALL],
])('no docstring goes on for longer: between %s no more than %i words', (ends, most) => {
  const long = files.flatMap((file) =>
    (readFileSync(join(ROOT, file), 'utf8').match(/\/\*\*[\s\S]*?\*\//g) ?? [])
      .flatMap((comment) => sentencesOf(comment, ends))
      .filter((sentence) => wordsIn(sentence) > most)
      .map((sentence) => `${file} (${wordsIn(sentence)}): ${sentence.trim()}`),
  );
  expect(files.length).toBeGreaterThan(300);
  expect(long).toEqual([]);
});
