import type { rider as english } from '../../en/rider/index.js';
import { home } from './home.js';
import { own } from './own.js';

function reach(phone: string | null, email: string | null): string {
  if (phone === null) return email === null ? 'passe pela oficina' : `escreva para ${email}`;
  return email === null ? `ligue ${phone}` : `ligue ${phone} ou escreva para ${email}`;
}

export const rider: typeof english = {
  reach,
  call: (phone, email) => `Por favor ${reach(phone, email)}.`,
  own,
  home,
  about: (bike, unit) => `${bike}, ${unit}`,
  back: 'Pode fechar esta página.',
  contact: 'A oficina',
  needDay: 'Escolha um dia da lista.',

  gone: {
    title: 'Esta ligação não funciona',
    says: 'Pode ter sido cortada por um programa de e-mail, ser de outra página, ou ter ido para um endereço anterior. Nada foi alterado. Abra outra vez a ligação na mensagem, ou peça uma nova à oficina.',
  },
  tooMuch: {
    title: 'Demasiadas tentativas',
    says: 'Nada foi alterado. Espere um quarto de hora e tente outra vez.',
  },
  broken: { title: 'Não funcionou', says: 'A falha é nossa. Nada foi alterado. Tente outra vez mais tarde.' },
  notYours: {
    title: 'Já não está nesta bicicleta',
    says: 'Tanto quanto sabemos, esta peça já não está numa bicicleta sua. Não há nada a fazer aqui.',
  },
  expired: {
    title: 'Esta ligação é demasiado antiga',
    says: 'As ligações servem durante 60 dias. Podemos enviar uma nova para o endereço que conhecemos.',
    submit: 'Enviar uma ligação nova',
    sent: 'Se o endereço ainda aceita mensagens, vai a caminho uma ligação nova. Nada mais foi alterado.',
  },

  ask: {
    title: 'Pedir um dia',
    lead: (job) => `Escolha um dia para: ${job}.`,
    which: 'Que trabalho',
    larger: (job, because) => `Sugerimos ${job}: ${because}. Pode escolher a mais pequena.`,
    along: (jobs) => `No mesmo dia, se houver lugar: ${jobs}.`,
    stands: {
      asked: {
        says: (day) => `Pediu ${day}. O lugar está guardado; a oficina escreve quando estiver marcado.`,
        other: 'Ou escolha antes outro dia.',
      },
      booked: {
        says: (day) => `Está marcado: ${day}.`,
        other:
          'Não lhe convém? Toque noutro dia: fica marcado em vez deste, e recebe uma mensagem para o seu calendário.',
      },
      passed: {
        says: (day) => `O seu dia era ${day}. A bicicleta esteve cá?`,
        other: 'Se esteve, não há nada a fazer: a oficina regista o que foi feito. Se não, toque noutro dia.',
      },
    },
    today: 'O seu dia é hoje. Para mudar, por favor telefone.',
    there: 'Já está na oficina.',
    notThatDay: (day) => `A oficina não pôde aceitar ${day}. Nestes dias há lugar.`,
    moved: (day) => `Obrigado. Fica marcado: ${day}, em vez do outro dia. A oficina é avisada.`,
    declined: 'A oficina não pôde aceitar este trabalho no dia pedido. Escolha outro dia ou telefone.',
    costs: (price) => `Custa ${price}.`,
    takes: (time) => `Demora ${time}.`,
    allDays: (count) => `Todos os outros dias livres (${count})`,
    none: 'Não há dias livres nas próximas seis semanas.',
    letGo: {
      asked: {
        lead: 'Ou desista do dia: a oficina é avisada, e pode pedir outro quando quiser.',
        submit: 'Desistir deste dia',
        done: 'Obrigado. Já não pede esse dia, e o lugar está livre outra vez.',
      },
      booked: {
        lead: 'Ou desmarque a visita: a oficina é avisada logo, e pode pedir outro dia quando quiser.',
        submit: 'Desmarcar este dia',
        done: 'Obrigado. Esse dia está desmarcado, e o lugar está livre outra vez. A oficina é avisada.',
      },
      passed: {
        lead: 'Ou diga só que não esteve cá: a oficina é avisada, e pode pedir um dia quando quiser.',
        submit: 'Não esteve lá',
        done: 'Obrigado. A oficina é avisada de que não esteve cá.',
      },
    },
    another: 'Escolher outro dia',
    notHeld: 'Já não há nenhum dia pedido. Nada foi alterado.',
    taken: 'Esse dia acabou de ser ocupado. Por favor escolha outro.',
    done: (day) =>
      `Obrigado. Pediu ${day} e o lugar está guardado. A oficina escreve quando estiver marcado.`,
  },
  done: {
    title: 'Já foi feita',
    by: 'Quem a fez',
    claimed:
      'A oficina tem de concordar antes de as horas recomeçarem. Até lá continuam, e a revisão fica registada como dita por si.',
    lead: 'Quando foi feita, e o quê? As horas contam de novo a partir desse dia.',
    day: 'Dia',
    kind: 'O que foi feito',
    homeKind: 'Em casa: o que foi feito',
    submit: 'Registar esta revisão',
    need: 'Escolha o dia em que foi feita, não depois de hoje.',
    said: (job, day) => `Obrigado. Registámos: ${job}, ${day}.`,
    twice: (job, day) =>
      `Já está no livro: ${job}, ${day}. Nada foi alterado. Se foi outro dia ou outro trabalho, diga qual. Pode retirar o que disse em “O que disse”.`,
    now: (terrain, moving) => `Desde então: ${terrain} de terreno (estimativa), ${moving} em movimento.`,
  },
  later: {
    title: 'Mais tarde',
    lead: 'Quando quer receber o lembrete? As horas continuam a contar, e a oficina continua a vê-las.',
    weeks: (count, day) => `${count} semanas, até ${day}`,
    otherDay: 'Outro dia',
    submit: 'Lembrar-me nesse dia',
    need: 'Escolha um dia dentro do próximo meio ano.',
    said: (day) => `Obrigado. Não recebe nada sobre isto antes de ${day}.`,
  },
  gonePart: {
    title: 'Vendida ou guardada',
    lead: 'Então as horas desta peça param aqui, e não recebe mais lembretes sobre ela.',
    sold: 'Vendida',
    stored: 'Guardada, pode voltar',
    submit: 'Tirar da bicicleta',
    need: 'Escolha uma das duas.',
    said: 'Obrigado. A partir de agora está fora da bicicleta.',
  },
  bike: {
    title: 'Bicicleta errada?',
    lead: 'Escolha a volta e a bicicleta em que foi. As horas passam para lá. De uma volta mais antiga, fale com a oficina.',
    ride: 'Volta',
    bike: 'Bicicleta',
    of: (day, hours, bike) => `${day}, ${hours}, contada para ${bike}`,
    noBike: 'nenhuma bicicleta',
    onNone: 'nenhuma das minhas bicicletas',
    submit: 'Mudar esta volta',
    none: 'Não há volta para mudar.',
    need: 'Escolha uma das voltas e uma das bicicletas.',
    said: (bike) => `Obrigado. Essa volta conta agora para ${bike}.`,
    saidNone: 'Obrigado. Essa volta deixou de contar. A oficina pode repô-la.',
  },
  stop: {
    title: 'Lembretes',
    lead: 'Estas mensagens dizem quando se aproxima uma revisão da sua bicicleta.',
    submit: 'Parar estes lembretes',
    stopped: 'Os lembretes estão parados. Mensagens sobre um dia marcado continuam a vir.',
    again: 'Enviar lembretes outra vez',
    on: 'Volta a receber lembretes.',
  },
  address: {
    title: 'Este endereço é seu?',
    lead: (workshop) => `${workshop} gostaria de escrever para o endereço a que esta ligação foi enviada.`,
    submit: 'Sim, este endereço é meu',
    said: 'Obrigado. O endereço está confirmado.',
    toOwnPage: 'Abrir a sua página',
    known: 'Este endereço já está confirmado.',
  },
};
