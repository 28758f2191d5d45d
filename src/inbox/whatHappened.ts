import type { ArchiveTold, FileTold, PathTold } from '../core/fileTold.js';
import { shownName } from '../core/lines.js';
import { fileWhy } from '../languages/fileText.js';
import { pageTextsFor, type RiderTexts, riderTextsFor } from '../languages/index.js';
import type { FolderTold } from '../ports/inbox.js';

/** Returns the text that tells what became of each file in a folder, a line a file, in its reader's language. */
export function whatHappenedText({ language, paths }: FolderTold): string {
  const { files } = riderTextsFor(language).own;
  const { stray } = pageTextsFor(language).tray;
  const lines = paths.map((one) => {
    const about = one.said?.stray;
    const told = toldOf(files, one) + (about ? ` ${stray[about.kind](shownName(about.folder))}` : '');
    return `${shownName(one.path)}: ${told}`;
  });
  return `${files.folder.lead}\n\n${lines.join('\n')}\n`;
}

type FileTexts = RiderTexts['own']['files'];

function toldOf(files: FileTexts, { settled, outcome, code, said }: PathTold): string {
  const { folder } = files;
  if (said?.former !== undefined) return said.former;
  if (said?.filesRead !== undefined) return `${folder.filesRead(said.filesRead)} ${folder.again}`;
  if (!settled) return `${fileWhy(files, { outcome: 'set-aside', code }) || folder.copying} ${folder.again}`;
  if (said?.archive) return archiveText(files, said.archive);
  return shortly(files, { outcome, code } as FileTold);
}

const shortly = (files: FileTexts, told: FileTold): string =>
  [files.folder.short[told.outcome], fileWhy(files, told)].filter((text) => text !== '').join('. ');

function archiveText(files: FileTexts, { counts, named, more }: ArchiveTold): string {
  const { folder } = files;
  const sums = counts.map(([outcome, count]) => `${folder.short[outcome]}: ${count}`).join('; ');
  const lines = named.map((one) => `\n  ${shownName(one.file)}: ${shortly(files, one)}`);
  return `${sums}${lines.join('')}${more > 0 ? `\n  ${folder.more(more)}` : ''}`;
}
