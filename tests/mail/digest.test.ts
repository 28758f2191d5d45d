import { describe, expect, it } from 'vitest';
import type { DigestContent } from '../../src/core/notices/mailContent.js';
import { renderDigest } from '../../src/mail/digest.js';
import { day } from '../../src/units.js';
import { digest } from './mailSamples.js';

const plain = (text: string): string => text.replace(/\s+/g, ' ');

describe('renderDigest', () => {
  it('puts what must stop first, then whom to call, then what is reached, then days to come, then what has no date', () => {
    const { subject, text } = renderDigest(digest);
    expect(subject).toBe('Services, Tuesday 27 May');
    const tags = [...text.matchAll(/\b[FS]-\d{4}\b/g)].map(([tag]) => tag);
    expect(tags).toEqual(['F-0099', 'F-0055', 'S-0008', 'S-0031', 'F-0002', 'F-0412', 'F-0007']);
    const shuffled: DigestContent = { ...digest, rows: [...digest.rows].reverse() };
    expect(renderDigest(shuffled).text).toBe(text);
  });

  it('tells rider, bike, tag, job, state, both hours and all three dates of a row', () => {
    const said = plain(renderDigest(digest).text);
    expect(said).toContain(
      '16 June (5 June to 20 August) * new Ada Madeup, Moss Hopper F-0412 fork: lower-leg service Coming up: terrain 41.3 of 50 h, moving 36.2 of 75 h',
    );
    expect(said).toContain(
      'now Bo Pretend, Slate S-0008 coil shock: full service Over interval: terrain 261 of 200 h',
    );
    expect(said).toContain(
      'no date Odo Fiction, Brine F-0007 fork: lower-leg service History unknown: terrain 41.3 h, moving 36.2 h since it came',
    );
    expect(said).toContain('F-0002 fork: wipers only');
  });

  it.each([
    [
      'due',
      'months',
      { terrainHours: 0 },
      'terrain 0 of 50 h, moving 36.2 of 75 h 12 months reached on 15 April',
    ],
    ['over-interval', 'months', {}, '12 months reached on 15 April'],
    ['coming-up', 'months', {}, '12 months up on 15 April'],
    ['due', 'moving-hours', {}, 'moving hours reached on 20 May'],
    ['due', 'terrain-hours', {}, 'terrain hours reached on 20 May'],
    ['coming-up', 'moving-hours', {}, 'moving hours first'],
  ] as const)('says of what is %s by %s which limit that is', (state, limit, more, said) => {
    const on = day('2025-05-20');
    const row = { ...digest.rows[0]!, ...more, state, limit, likely: { p10: on, p50: on, p90: on } };
    const rows = [{ ...row, monthsEnd: day('2025-04-15') }];
    expect(plain(renderDigest({ ...digest, rows }).text)).toContain(said);
  });

  it('shows one day where a limit in months leaves no doubt', () => {
    const on = day('2025-06-07');
    const rows = [{ ...digest.rows[0]!, limit: 'months' as const, likely: { p10: on, p50: on, p90: on } }];
    const said = plain(renderDigest({ ...digest, rows }).text);
    expect(said).toContain('7 June * new');
    expect(said).not.toContain('7 June to 7 June');
  });

  it('names no limit where the hours do not matter', () => {
    for (const state of ['stop-riding', 'history-unknown'] as const) {
      const rows = [{ ...digest.rows[0]!, state, limit: 'months' as const }];
      expect(renderDigest({ ...digest, rows }).text).not.toMatch(/months (reached|up)|hours first/);
    }
  });

  it('counts what is new, what waits, and whom to call', () => {
    const said = plain(renderDigest(digest).text);
    expect(said).toContain('3 new since 24 May. 5 wait in the tray.');
    expect(said).toContain(
      'mail does not reach them: - Dot Nobody, +000 555 0177: F-0055 lower-leg service, due (mail to their address is refused)',
    );
    expect(said).toContain('- Hire 7: F-0099 fork (new)');
    const quiet = plain(
      renderDigest({ ...digest, trayCount: 0, toCall: [], lastDigest: null, link: null }).text,
    );
    expect(quiet).not.toMatch(/tray|Please call|https:|since 24/);
    expect(quiet).toContain('3 new.');
    expect(plain(renderDigest({ ...digest, trayCount: 1 }).text)).toContain('1 waits in the tray.');
  });

  it('says when there is nothing, without cautions that nobody needs', () => {
    const { text } = renderDigest({ ...digest, rows: [], toCall: [] });
    expect(text).toContain('Nothing is due or coming up. 5 wait in the tray.');
    expect(text).not.toMatch(/By date|Before anybody|Stop riding/);
  });

  it('carries the cautions, for it leads to somebody opening a unit', () => {
    expect(renderDigest(digest).text).toContain('Before anybody opens a unit');
    expect(renderDigest(digest).html).toContain('Let the pressure out first, slowly.');
  });

  it('shows a unit in its box, and no interval where there is none', () => {
    const [row] = digest.rows;
    if (row === undefined) throw new Error('no row');
    const none = { terrainHours: null, months: 12, movingHoursCeiling: null, rule: 'kind' } as const;
    const said = plain(
      renderDigest({ ...digest, rows: [{ ...row, rider: null, bike: null, interval: none }] }).text,
    );
    expect(said).toContain('not on a bike F-0412');
    expect(said).toContain('terrain 41.3 h, moving 36.2 h');
  });

  it("speaks the workshop's language", () => {
    const { text, html } = renderDigest({ ...digest, workshop: { ...digest.workshop, language: 'pt' } });
    expect(plain(text)).toContain('3 novos desde 24 de maio. 5 esperam no tabuleiro.');
    expect(plain(text)).toContain('Intervalo ultrapassado: terreno 261 de 200 h');
    expect(html).toContain('lang="pt"');
    const rows = [{ ...digest.rows[0]!, state: 'due' as const, limit: 'months' as const }];
    const due = renderDigest({ ...digest, rows, workshop: { ...digest.workshop, language: 'pt' } });
    expect(plain(due.text)).toContain('limite de 12 meses atingido a 3 de outubro');
  });

  it('lets no typed name become markup', () => {
    const rows = digest.rows.map((row) => ({ ...row, rider: '<b>x</b>', bike: '"><img src=x>' }));
    const { html } = renderDigest({ ...digest, rows, toCall: [{ ...digest.toCall[0]!, rider: '<i>' }] });
    expect(html).not.toMatch(/<b>|<img|<i>/);
  });
});
