import type * as english from '../../en/pages/benchSettings.js';

export const benchSettings: typeof english.benchSettings = {
  title: 'O que cabe na bancada',
  lead: 'Por isto se oferecem dias aos ciclistas; um quinto do tempo fica para o que aparece.',
  link: 'Mudar minutos, lugares e dias fechados; ver o calendário.',
  minutes: 'Minutos de bancada por dia',
  minutesHint: 'De todos os que trabalham na bancada, num dia aberto.',
  places: 'Lugares por semana',
  placesHint: 'Vazio: quantos os minutos deixarem.',
  raceDays: 'Dias antes de uma corrida',
  raceDaysHint: 'Tantos dias abertos antes de uma corrida estão feitos os seus serviços.',
  closed: 'Dias fechados',
  noneClosed: 'Nenhum dia à frente está fechado.',
  reopen: 'Marque um dia para o abrir outra vez.',
  closeFrom: 'Fechada de',
  closeTo: 'Fechada até',
  calendar: 'Onde estão os dias marcados.',
  calendarLead: 'Quem tem este endereço vê as marcações, sem nomes de ciclistas.',
  needNumber:
    'Escreva números inteiros: minutos de 10 a 10 000, lugares a partir de 1 ou nada, dias de 0 a 30.',
  needStretch: 'Escolha o primeiro e o último dia fechado, com um ano entre eles no máximo.',
};
