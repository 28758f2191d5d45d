import type { plot as english, benchYear as englishYear } from '../../en/pages/plot.js';

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

const overIs = 'chegaram com o intervalo ultrapassado';
const darkIs = 'tinham anéis de espuma escuros';

export const benchYear: typeof englishYear = {
  title: 'Um ano da bancada',
  link: 'Um ano da bancada: lembrar serve de alguma coisa?',
  lead: 'O que foi revisto aqui, quantas horas levava, e se isso melhorou desde que há lembretes.',
  nothing: 'Ainda não há nenhuma revisão registada aqui.',
  question: 'Lembrar serve de alguma coisa?',
  notBegun: 'Os lembretes ainda não começaram, ou estão parados. Ainda não há nada a comparar.',
  begun: (day) => `Os lembretes começaram a ${day}.`,
  measures: {
    dark: {
      rarer: (before, since) => `Menos unidades ${darkIs}: ${since} desde então, ${before} antes.`,
      'more-often': (before, since) => `Mais unidades ${darkIs}: ${since} desde então, ${before} antes.`,
      undecided: (before, since) =>
        `Ainda nada se pode dizer dos anéis escuros: ${since} desde então, ${before} antes. A diferença pode ser acaso.`,
      tooFew: 'Viram-se anéis de espuma a menos para comparar.',
    },
    over: {
      rarer: (before, since) => `Menos unidades ${overIs}: ${since} desde então, ${before} antes.`,
      'more-often': (before, since) => `Mais unidades ${overIs}: ${since} desde então, ${before} antes.`,
      undecided: (before, since) =>
        `Ainda nada se pode dizer dos intervalos ultrapassados: ${since} desde então, ${before} antes. A diferença pode ser acaso.`,
      tooFew: 'Chegaram unidades a menos com as horas contadas.',
    },
  },
  change: (low, high) => `Intervalo de 80\u00a0% da mudança: ${low} a ${high} pontos.`,
  missing: (before, since) => `Ainda faltam: ${before} de antes, ${since} desde então.`,
  lateOnly: 'O que falta de antes só pode vir de revisões registadas mais tarde.',
  notCome: (count) =>
    count === 1
      ? '1 unidade tem agora o intervalo ultrapassado e não veio. Não está em nenhuma destas partes.'
      : `${count} unidades têm agora o intervalo ultrapassado e não vieram. Não estão em nenhuma destas partes.`,
  groups: {
    before: 'Antes dos lembretes',
    since: 'Desde os lembretes',
    'up-already': 'Horas já gastas quando os lembretes começaram',
    'not-known': 'Última revisão desconhecida',
  },
  columns: {
    group: 'Unidades revistas',
    visits: 'Quantas',
    middle: 'Intervalo gasto, a do meio',
    over: 'Intervalo ultrapassado',
    dark: 'Anéis escuros',
  },
  of: (hits, of) => `${hits} de ${of}`,
  how: [
    'Uma unidade conta uma vez por dia. De várias horas que uma revisão pôs a zero, contam as que mais tinham gasto do seu intervalo. O intervalo é o que está definido agora, dos dois lados.',
    'As unidades com as horas já gastas quando os lembretes começaram ficam à parte, porque nenhum lembrete lhes valia; e também aquelas de que ninguém sabia a última revisão.',
    'Isto compara dois tempos, e não prova uma causa: também mudam os ciclistas, as épocas e a atenção com que se olha.',
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
