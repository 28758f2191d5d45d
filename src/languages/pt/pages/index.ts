import type { pages as english } from '../../en/pages/index.js';
import { bench, comebacks, kits } from './bench.js';
import { customer } from './customer.js';
import { due } from './due.js';
import { find } from './find.js';
import { inspect } from './inspect.js';
import { interval, intervals } from './intervals.js';
import { looks } from './looks.js';
import { mails } from './mails.js';
import { paper } from './paper.js';
import { photos } from './photos.js';
import { plan } from './plan.js';
import { benchYear, plot } from './plot.js';
import { hire, racing } from './racing.js';
import { ride } from './ride.js';
import { bike, declared, riders, sources, ways } from './riders.js';
import { settings } from './settings.js';
import { sheets } from './sheets.js';
import { first, signIn } from './signIn.js';
import { sorry } from './sorry.js';
import { team } from './team.js';
import { today } from './today.js';
import { tray } from './tray.js';
import { setUp, unit, units } from './unit.js';

export const pages: typeof english = {
  ...today,
  declared,
  ways,
  comebacks,
  benchYear,
  kits,
  hire,
  team,
  skip: 'Saltar para o conteúdo',
  pages: 'Páginas',
  nav: {
    today: 'Hoje',
    tray: 'Tabuleiro',
    calls: 'Telefonemas',
    mails: 'Mensagens',
    due: 'A fazer',
    load: 'Semanas e peças',
    findings: 'O que se viu',
    year: 'Um ano',
    intervals: 'Intervalos',
    bookings: 'Marcações',
    bench: 'Bancada',
    day: 'Trabalhos do dia',
    comebacks: 'Regressos e reclamações',
    kits: 'Peças para casa',
    riders: 'Ciclistas',
    ways: 'Caminhos',
    units: 'Unidades',
    races: 'Provas',
    fleets: 'Frotas',
    settings: 'Definições',
    fleet: 'Frota',
    swap: 'Trocar',
  },
  forExample: 'Por exemplo:',
  commandLine: 'linha de comandos',
  theRider: 'quem anda na bicicleta',
  needDay: 'Escolha um dia, não depois de hoje.',
  needWhy: 'Diga porquê, em 300 caracteres no máximo.',
  changedBy: (who, time) =>
    `${who} já alterou isto (${time}). A sua alteração não foi guardada. Abra a página de novo para ver o que diz agora.`,
  takenBackBy: (who, time) =>
    `${who} já retirou isto (${time}). A sua alteração não foi guardada. Abra a página de novo para ver o que diz agora.`,
  needLine: 'No máximo 300 caracteres, numa só linha.',
  signOut: 'Sair',
  signOutEverywhere: 'Sair em todos os aparelhos',
  foot: 'Aqui contam-se horas; ninguém viu a peça, e nada aqui certifica que ela é segura.',
  caution: {
    title: 'Antes de alguém abrir uma unidade',
    items: [
      'Não ande: uma fissura, um empeno, coroa ou tubo de direção soltos, danos no eixo ou num olhal, perda súbita de amortecimento ou de ar, uma unidade que não estende, uma fuga grande junto de um travão.',
      'Mande verificar em breve e, na dúvida, não ande: um risco, um pouco de óleo, um ruído novo, uma folga pequena.',
      'Primeiro tire a pressão, devagar. Uma unidade que fica comprimida vai à oficina sem ser aberta.',
      'Use proteção nos olhos. Troque as anilhas de uso único. Não deixe chegar óleo aos travões.',
      'Óleo e binários de aperto pelo manual do fabricante, com chave dinamométrica; o manual vale mais do que qualquer intervalo dado aqui.',
      'Na dúvida, pergunte a um técnico qualificado.',
    ],
  },
  severityNote:
    'As horas de terreno são horas em movimento, ponderadas pelo trabalho que o terreno deu à suspensão. Essa severidade é uma estimativa, feita a partir da altitude nos ficheiros das voltas.',
  signIn,
  first,
  bench,
  due,
  intervals,
  interval,
  units,
  unit,
  setUp,
  ride,
  photos,
  plan,
  racing,
  hoursPlot: plot,
  paper,
  settings,
  tray,
  riders,
  sources,
  bike,
  looks,
  inspect,
  sheets,
  customer,
  find,
  mails,
  sorry,
};
