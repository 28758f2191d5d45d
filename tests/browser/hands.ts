import { readFileSync } from 'node:fs';
import { join, resolve } from 'node:path';
import type { Locator, Page } from 'playwright-core';

const GUIDE = readFileSync(join(resolve(import.meta.dirname, '../..'), 'DEVELOPERS.md'), 'utf8');

/** The count that the contributors' guide has for a task at a width. */
export function told(task: string, width: number): string {
  const row = GUIDE.split('\n').find((line) => line.startsWith(`| ${task} |`)) ?? '';
  return row.split('|').map((cell) => cell.trim())[width === 820 ? 2 : 3] ?? '';
}

/** Counts what a finger does, and the texts that are typed; a choice from a list is two taps. */
export class Finger {
  taps = 0;
  texts = 0;
  constructor(readonly page: Page) {}
  async tap(locator: Locator): Promise<void> {
    this.taps++;
    await locator.click();
  }
  async choose(locator: Locator, value: string): Promise<void> {
    this.taps += 2;
    await locator.selectOption(value);
  }
  async type(locator: Locator, text: string): Promise<void> {
    this.texts++;
    await locator.fill(text);
  }
  button = (name: string | RegExp): Promise<void> =>
    this.tap(this.page.getByRole('button', { name }).first());
  link = (name: string | RegExp): Promise<void> => this.tap(this.page.getByRole('link', { name }).first());
  /** As the guide has it. */
  counted(): string {
    const texts = this.texts === 0 ? '' : this.texts === 1 ? ', 1 text' : `, ${this.texts} texts`;
    return `${this.taps} ${this.taps === 1 ? 'tap' : 'taps'}${texts}`;
  }
}
