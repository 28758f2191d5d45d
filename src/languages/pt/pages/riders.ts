import type * as english from '../../en/pages/riders.js';
import { ownPage } from './ownPage.js';

export const riders: typeof english.riders = {
  ownPage,
  title: 'Ciclistas e bicicletas',
  lead: 'Que bicicletas levam que unidades, e a quem se pode escrever.',
  columns: { rider: 'Ciclista', bikes: 'Bicicletas e unidades', address: 'Endereço', language: 'Língua' },
  address: {
    confirmed: 'confirmado',
    unconfirmed: 'ainda não confirmado: pergunta-se por mensagem antes de tudo o resto',
    none: 'nenhum: avisar por telefone',
    refused: 'não aceita mensagens: telefonar',
  },
  stopped: 'não quer lembretes',
  noBike: 'nenhuma bicicleta',
  noUnit: 'nenhuma unidade',
  loose: 'Bicicletas sem ciclista',
  looseLead: 'De aluguer, de empréstimo e de prova: contam-se horas, e não vai mensagem a nenhum ciclista.',
  bike: 'Bicicleta',
  units: 'Unidades',
  nothing: 'Ainda não há ciclistas. Junte o primeiro.',
};

export const sources: typeof english.sources = {
  title: 'De onde vêm as horas',
  hours: (moving, terrain) => `em movimento ${moving}, de terreno ${terrain}`,
  cameWith: 'Conhecidas quando a unidade chegou',
  estimate: 'uma estimativa, da parte que alguém indicou',
  all: 'Tudo junto',
};

export const bike: typeof english.bike = {
  type: 'Tipo',
  unitsTitle: 'Unidades nela',
  noUnits: 'Não há nenhuma unidade nesta bicicleta.',
  ridesTitle: 'Últimas voltas',
  noRides: 'Ainda não conta nenhuma volta nesta bicicleta.',
  columns: {
    day: 'Dia',
    moving: 'Horas em movimento',
    terrain: 'Horas de terreno',
    rule: 'Como se sabe a bicicleta',
  },
  hoursTitle: 'Andar sem gravador',
  hoursLead: 'As horas introduzidas aqui contam como as gravadas, e ficam marcadas.',
  on: 'Dia',
  minutes: 'Minutos andados',
  ground: 'Terreno',
  note: 'Nota',
  add: 'Juntar estas horas',
  added: 'As horas foram juntas.',
  addedToNone:
    'As horas estão juntas. Nenhuma unidade estava nesta bicicleta no começo desse dia: não contam para nenhuma até se dizer que uma estava.',
  shareTitle: 'Voltas que ninguém gravou',
  shareLead:
    'Que parte de tudo o que se anda nesta bicicleta não está em nenhum ficheiro? Uma volta em dez são 10 %. Conta como estimativa, numa linha própria. O conta-quilómetros de uma bicicleta elétrica é quem melhor o diz.',
  share: 'Percentagem de tudo o que se anda',
  shareFrom: 'Desde o início de',
  shareTo: 'Até ao início de',
  shareToHint: 'Deixe vazio se continua assim.',
  shareAdd: 'Juntar esta estimativa',
  shareAdded: 'A estimativa foi junta.',
  waiting: (rides) => `Por contar, à espera de resposta nas perguntas: ${rides}.`,
  waitingForOwner: (rides) => `Por contar, à espera de resposta do dono ou de um técnico: ${rides}.`,
  shareNeed: 'Indique uma percentagem de tudo o que se anda, mais de 0 e no máximo 90.',
  shareSaid: (percent, from, to) => `${percent} % de ${from} a ${to}`,
  shareSince: (percent, from) => `${percent} % desde ${from}`,
};

export const declared: typeof english.declared = {
  title: 'Sem gravador? Quantas horas por semana, mais ou menos',
  lead: 'Para uma bicicleta cujas voltas não vêm em nenhum ficheiro. As horas repartem-se por igual pelos dias, contam até ao primeiro ficheiro de uma volta, e ficam marcadas como declaradas onde quer que estejam. São um palpite, por isso perguntamos outra vez de três em três meses.',
  hours: 'Horas por semana, mais ou menos',
  ground: 'Quase sempre em terreno',
  when: 'Quando',
  these: 'estes meses',
  months: 'Meses, em números',
  monthsHint: 'Só para “estes meses”: 4-10 é de abril a outubro.',
  from: 'Desde',
  save: 'Contar estas horas',
  saved: 'Obrigado. As horas contam, e ficam marcadas como declaradas.',
  said: (hours, ground, months) =>
    `cerca de ${hours} por semana, quase sempre em terreno ${ground}, ${months}`,
  since: (said, from) => `${said}, desde ${from}`,
  sinceTo: (said, from, to) => `${said}, de ${from} até ${to}`,
  filesTell:
    'Agora são os ficheiros das voltas que contam nesta bicicleta; nada do declarado se soma a eles.',
  still: (said) => `Disse-nos: ${said}. Continua assim?`,
  yes: 'Sim, continua assim',
  no: 'Não, agora é diferente',
  thanks: 'Obrigado. Voltamos a perguntar daqui a três meses.',
  part: (hours) => `das quais ${hours} declaradas`,
  all: 'declaradas, não gravadas',
  guess: 'como quem anda as disse, um palpite',
  need: 'Escreva as horas por semana em número, mais de 0 e no máximo 60, e um dia que já chegou. Nada foi guardado.',
  needMonths: 'Escreva os meses em números de 1 a 12, por exemplo 4-10. Nada foi guardado.',
};
