import type { plot as english } from '../../en/pages/plot.js';

export const plot: typeof english = {
  heading: 'Horas ao longo do tempo',
  title: (service, of) => `${service}: ${of} ao longo do tempo`,
  of: { terrain: 'horas de terreno (estimativa)', moving: 'horas em movimento' },
  now: (hours, limit) => (limit === null ? `Agora em ${hours}.` : `Agora em ${hours} de ${limit}.`),
  noService: 'Ainda não se conhece nenhuma revisão.',
  services: (days) => `Revisões a ${days}.`,
  fan: (early, middle, late) =>
    `O intervalo é provavelmente atingido a ${middle}; com 10\u00a0% de probabilidade até ${early}, com 90\u00a0% até ${late}.`,
  months: (day) => `Os meses acabam a ${day}.`,
  monthsUp: 'fim dos meses',
  legend: {
    hours: 'horas desde a revisão',
    service: 'uma revisão',
    interval: 'intervalo',
    fan: 'provável de ser atingido: de 10\u00a0% a 90\u00a0%',
    middle: 'até aí tão provável como não (50\u00a0%)',
  },
};
