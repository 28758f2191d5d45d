/** What the picture of a unit's hours says. */
export const plot = {
  heading: 'Hours over time',
  title: (service: string, of: string) => `${service}: ${of} over time`,
  of: { terrain: 'terrain hours (estimate)', moving: 'moving hours' },
  now: (hours: string, limit: string | null) =>
    limit === null ? `Now at ${hours}.` : `Now at ${hours} of ${limit}.`,
  noService: 'No service is known yet.',
  services: (days: string) => `Services on ${days}.`,
  fan: (early: string, middle: string, late: string) =>
    `The interval is likely reached on ${middle}; with 10\u00a0% likelihood by ${early}, with 90\u00a0% by ${late}.`,
  months: (day: string) => `Its months are up on ${day}.`,
  monthsUp: 'months up',
  legend: {
    hours: 'hours since the service',
    service: 'a service',
    interval: 'interval',
    fan: 'likely to be reached: from 10\u00a0% to 90\u00a0%',
    middle: 'reached by then as likely as not (50\u00a0%)',
  },
};
