/** Loaded before the program: its clock of the day is off by what a file says, which may change while it runs. */
import { readFileSync } from 'node:fs';

const RealDate = Date;
const offMs = () => Number(readFileSync(process.env.JUMP_FILE, 'utf8'));

globalThis.Date = class extends RealDate {
  constructor(...given) {
    if (given.length === 0) super(RealDate.now() + offMs());
    else super(...given);
  }
  static now() {
    return RealDate.now() + offMs();
  }
};
