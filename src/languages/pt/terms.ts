import type { Terms } from '../words.js';

export const terms: Terms = {
  name: 'Português',
  locale: 'pt-PT',
  state: {
    'stop-riding': 'não andar',
    'on-the-bench': 'na oficina',
    'history-unknown': 'historial desconhecido',
    'over-interval': 'intervalo ultrapassado',
    due: 'a fazer agora',
    'coming-up': 'a aproximar-se',
    'in-time': 'dentro do prazo',
  },
  unitKind: { fork: 'forqueta', 'air-shock': 'amortecedor a ar', 'coil-shock': 'amortecedor de mola' },
  serviceKind: {
    'lower-leg': 'revisão das bainhas',
    damper: 'revisão do hidráulico',
    full: 'revisão completa',
    'air-sleeve': 'revisão da câmara de ar',
    bushings: 'revisão dos casquilhos',
  },
  bikeType: { road: 'estrada', gravel: 'gravilha', trail: 'trilho', gravity: 'descida', other: 'outra' },
  limit: {
    'terrain-hours': 'horas de terreno',
    'moving-hours': 'horas em movimento',
    months: 'meses',
    none: 'sem limite',
  },
  ground: { smooth: 'suave', typical: 'normal', rough: 'duro' },
  bikeRule: {
    chosen: 'escolhida por uma pessoa',
    subfolder: 'pela pasta',
    sensor: 'por um sensor da bicicleta',
    'ride-type': 'pelo tipo de volta',
    'only-suspended': 'a única bicicleta com suspensão',
  },
  hourSource: {
    recorded: 'dos ficheiros das voltas',
    'by-hand': 'introduzidas à mão',
    unrecorded: 'andadas sem gravar',
  },
  intervalRule: {
    unit: 'definido para esta unidade',
    model: 'definido para este modelo',
    fleet: 'definido para esta frota',
    kind: 'definido para este tipo de unidade',
  },
  nameFault: {
    spaces: 'tem de ter alguma coisa, sem espaços à volta',
    signs: 'tem no máximo 64 caracteres, sem barras nem caracteres escondidos',
    dot: 'não pode começar por um ponto',
  },
  counted: {
    day: { one: '# dia', other: '# dias' },
    month: { one: '# mês', other: '# meses' },
    ride: { one: '# volta', other: '# voltas' },
    service: { one: '# revisão', other: '# revisões' },
    waiting: { one: '# espera no tabuleiro', other: '# esperam no tabuleiro' },
    new: { one: '# novo', other: '# novos' },
  },
  about: 'por volta de #',
  hourSign: 'h',
};
