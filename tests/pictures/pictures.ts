/** What is taken of the demo: each picture with its page, and how much of it. Units: CSS pixels. */
export interface Picture {
  readonly name: string;
  /** Of the pages that need signing in. */
  readonly path: string;
  readonly width: number;
  readonly height: number;
  /** What stands at its top; the page's own top where left out. */
  readonly from?: string;
}

export const PICTURES: readonly Picture[] = [
  { name: 'today', path: '/', width: 1120, height: 760 },
  { name: 'due', path: '/due', width: 1120, height: 720 },
  { name: 'unit', path: '/units/F-0103', width: 820, height: 620, from: 'figure.plot' },
  { name: 'card', path: '/units/F-0105/card', width: 820, height: 760 },
  { name: 'tray', path: '/tray', width: 820, height: 700 },
  { name: 'fleet', path: '/fleets/t1', width: 1120, height: 620 },
  { name: 'race', path: '/races/x1', width: 1120, height: 620 },
];

/** Pictures of what is no page of the workshop's: a rider's own page on a phone, and a mail as it is read there. */
export const OF_A_RIDER = { page: 'rider', mail: 'mail' } as const;
export const PHONE = { width: 390, height: 844 } as const;

/** The demo's day: a Wednesday, when the invented workshop is open. */
export const PICTURED_AT = '2026-06-10T12:00:00Z';
/** Units: bytes. */
export const LARGEST_PICTURE = 120 * 1024;
