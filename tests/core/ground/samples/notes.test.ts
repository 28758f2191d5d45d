import { describe, expect, it } from 'vitest';
import { NoteCounter, notesOf, summedNotes } from '../../../../src/core/ground/samples/notes.js';

describe('NoteCounter', () => {
  it('adds up by code, and lists them by the alphabet without those that are 0', () => {
    const notes = new NoteCounter();
    notes.add('time-missing');
    notes.add('position-malformed', 2);
    notes.add('time-missing', 4);
    notes.add('time-backward', 0);
    expect(notes.list()).toEqual([
      { code: 'position-malformed', count: 2 },
      { code: 'time-missing', count: 5 },
    ]);
  });

  it('goes on from what was counted before, which it leaves as it is', () => {
    const file = new NoteCounter();
    file.add('time-missing');
    const track = new NoteCounter(file.list());
    track.add('time-missing');
    expect([track.list()[0]!.count, file.list()[0]!.count]).toEqual([2, 1]);
  });
});

describe('notes', () => {
  it('are of what was seen at all', () => {
    expect(notesOf({ 'time-missing': 0, 'clock-wrong': 2 })).toEqual([{ code: 'clock-wrong', count: 2 }]);
  });

  it('are summed where two stages noted the same', () => {
    const notes = [
      { code: 'time-missing', count: 1 },
      { code: 'position-jump', count: 1 },
      { code: 'time-missing', count: 3 },
    ];
    expect(summedNotes(notes)).toEqual([
      { code: 'time-missing', count: 4 },
      { code: 'position-jump', count: 1 },
    ]);
  });
});
