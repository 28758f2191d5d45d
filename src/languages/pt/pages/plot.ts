import type { plot as english, benchYear as englishYear } from '../../en/pages/plot.js';

export const plot: typeof english = {
  heading: 'Horas ao longo do tempo',
  title: (service, of) => `${service}: ${of} ao longo do tempo`,
  of: { terrain: 'horas de terreno (estimativa)', moving: 'horas em movimento' },
  now: (hours, limit) => (limit === null ? `Agora em ${hours}.` : `Agora em ${hours} de ${limit}.`),
  noService: 'Ainda não há nenhuma revisão registada.',
  services: (days) => `Revisões a ${days}.`,
  fan: (early, middle, late) =>
    `O intervalo é provavelmente atingido a ${middle}; intervalo de 80\u00a0%: ${early} a ${late}.`,
  months: (day) => `Os meses acabam a ${day}.`,
  monthsUp: 'fim dos meses',
  across: 'dia',
  legend: {
    hours: 'horas desde a revisão',
    service: 'uma revisão',
    interval: 'intervalo',
    fan: 'deve ser atingido: intervalo de 80\u00a0%',
    middle: 'data provável (50\u00a0%)',
  },
};

const overIs = 'chegaram com o intervalo ultrapassado';
const darkIs = 'tinham anéis de espuma escuros';

export const benchYear: typeof englishYear = {
  title: 'Um ano da bancada',
  link: 'Um ano da bancada: os lembretes resultam?',
  lead: 'O que foi revisto aqui, com quantas horas veio, e se isso melhorou desde que há lembretes.',
  nothing: 'Ainda não há nenhuma revisão registada aqui. Registe uma na bancada, e passa a contar.',
  question: 'Os lembretes resultam?',
  notBegun: 'Os lembretes ainda não começaram, ou estão parados. Ainda não há nada a comparar.',
  begun: (day) => `Os lembretes começaram a ${day}.`,
  measures: {
    dark: {
      rarer: (before, since) => `Menos unidades ${darkIs}: ${since} desde então, ${before} antes.`,
      'more-often': (before, since) => `Mais unidades ${darkIs}: ${since} desde então, ${before} antes.`,
      undecided: (before, since) =>
        `Anéis escuros: ainda é cedo para dizer. ${since} desde então, ${before} antes; a diferença pode ser acaso.`,
      tooFew: 'Anéis escuros: viram-se poucos anéis de espuma para comparar.',
    },
    over: {
      rarer: (before, since) => `Menos unidades ${overIs}: ${since} desde então, ${before} antes.`,
      'more-often': (before, since) => `Mais unidades ${overIs}: ${since} desde então, ${before} antes.`,
      undecided: (before, since) =>
        `Intervalos ultrapassados: ainda é cedo para dizer. ${since} desde então, ${before} antes; a diferença pode ser acaso.`,
      tooFew: 'Intervalos ultrapassados: chegaram poucas unidades com as horas contadas.',
    },
  },
  change: (low, high) => `Intervalo de 80\u00a0% da mudança: ${low} a ${high} pontos.`,
  missing: (before, since) => `Ainda faltam: ${before} de antes, ${since} desde então.`,
  lateOnly: 'As que faltam de antes só podem vir de revisões antigas registadas agora.',
  notCome: (count) =>
    count === 1
      ? '1 unidade tem agora o intervalo ultrapassado e não veio. Não conta aqui.'
      : `${count} unidades têm agora o intervalo ultrapassado e não vieram. Não contam aqui.`,
  groups: {
    before: 'Antes dos lembretes',
    since: 'Desde os lembretes',
    'up-already': 'Horas já gastas quando os lembretes começaram',
    'not-known': 'Última revisão desconhecida',
  },
  columns: {
    group: 'Unidades revistas',
    visits: 'Quantas',
    middle: 'Intervalo gasto, valor típico',
    over: 'Intervalo ultrapassado',
    dark: 'Anéis escuros',
  },
  of: (hits, of) => `${hits} de ${of}`,
  how: [
    'Uma unidade conta uma vez por dia. Se uma revisão faz recomeçar várias horas, conta a que mais tinha gasto do seu intervalo. Para antes e depois valem os intervalos definidos hoje.',
    'As unidades com as horas já gastas quando os lembretes começaram estão à parte: nenhum lembrete as podia ajudar. Também as unidades de que ninguém sabia a última revisão.',
    'Comparam-se duas épocas, e isso não prova uma causa: também mudam os ciclistas, as estações e a atenção com que se olha.',
  ],
  shares: {
    title: 'Antes e desde os lembretes',
    axis: 'parte das unidades',
    dark: 'anéis escuros',
    over: 'ultrapassado',
    before: 'antes',
    since: 'desde então',
    says: (what, when, share, low, high) => `${what}, ${when}: ${share}, entre ${low} e ${high}.`,
    legend: { share: 'parte vista', range: 'intervalo de 80\u00a0%' },
  },
  used: {
    title: 'Quanto do intervalo cada unidade tinha gasto',
    axis: 'intervalo gasto',
    across: 'dia da revisão',
    says: (count, over) =>
      `${count} pontos, cada um uma unidade no dia da revisão; ${over} com o intervalo ultrapassado.`,
    began: 'início dos lembretes',
    legend: {
      dark: 'anéis escuros',
      other: 'anéis não escuros, ou não vistos',
      whole: 'o intervalo inteiro',
      over: 'ultrapassado a partir daqui',
    },
    further: (count) => `no limite de cima, ${count} ainda mais acima`,
  },
  months: {
    title: 'Unidades revistas, mês a mês',
    axis: 'unidades',
    across: 'mês',
    month: (name, visits, over) => `${name}: ${visits}, intervalo ultrapassado ${over}.`,
    legend: { visits: 'unidades revistas', over: 'com o intervalo ultrapassado' },
  },
  file: 'Tudo num ficheiro (CSV)',
};
