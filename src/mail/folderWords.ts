import { languageOf, mailTextsFor, riderTextsFor } from '../languages/index.js';
import type { FolderWords } from '../ports/inbox.js';

/** Returns what a rider's folder tells of its files; reasons are known in English, in other languages by their code. */
export function folderWords(language: string): FolderWords {
  const { title, said, waits, again, soFar, more } = mailTextsFor(language).folder;
  const { files } = riderTextsFor(language).own;
  const isEnglish = languageOf(language) === 'en';
  const byCode = (code: string | null): string | null =>
    code === null ? null : (files.why[code] ?? files.question[code] ?? null);
  return {
    ...{ title, said, soFar, more },
    why: (code, reason) => (isEnglish ? reason : byCode(code)),
    waits: (reason) => `${isEnglish && reason !== null ? reason : waits}; ${again}`,
  };
}
