import type { MailTexts } from '../mailTexts.js';

// The words for units differ in gender and a workshop adds kinds of its own, so no article stands before either.
export const mails: MailTexts = {
  greeting: (name) => (name === '' ? 'Olá,' : `Olá ${name},`),
  contact: (phone) =>
    phone === null ? 'responda a esta mensagem' : `responda a esta mensagem ou ligue ${phone}`,
  noReply: (phone) => (phone === null ? 'passe pela oficina' : `ligue ${phone}`),
  phone: (phone) => `Telefone ${phone}`,
  openingHours: (hours) => `Aberto ${hours}`,
  stopLink: 'Parar estes lembretes',
  stopWithout: (contact) => `Para parar estes lembretes, ${contact}.`,
  estimateNote:
    'As horas de terreno são as horas em movimento, ponderadas pelo trabalho que o terreno deu à suspensão. É uma estimativa, feita a partir da altitude nos ficheiros das voltas.',
  cautions: {
    title: 'Antes de alguém abrir uma unidade',
    items: [
      'Não ande: uma fissura, um empeno, coroa ou tubo de direção soltos, danos no eixo ou num olhal, perda súbita de amortecimento ou de ar, uma unidade que não estende, uma fuga grande junto de um travão.',
      'Mande verificar em breve e, na dúvida, não ande: um risco, um pouco de óleo, um ruído novo, uma folga pequena.',
      'Primeiro tire a pressão, devagar. Uma unidade que fica comprimida vai à oficina sem ser aberta.',
      'Use proteção nos olhos. Troque as anilhas de uso único. Não deixe chegar óleo aos travões.',
      'Óleo e binários de aperto pelo manual do fabricante, com chave dinamométrica; o manual vale mais do que qualquer intervalo dado aqui.',
      'Na dúvida, pergunte a um técnico qualificado.',
      'Aqui contam-se horas; ninguém viu a peça, e nada aqui certifica que é segura.',
    ],
  },

  reminder: {
    subject: {
      'history-unknown': ({ bike, unit }) => `${bike}: historial desconhecido (${unit})`,
      'over-interval': ({ bike, job }) => `${bike}: ${job} em atraso`,
      due: ({ bike, job }) => `${bike}: altura de ${job}`,
      'coming-up': ({ bike, job, likely }) => `${bike}: ${job} ${likely ?? 'em breve'}`,
    },
    andMore: (subject, more) => `${subject}, e mais ${more}`,
    headline: {
      'history-unknown': ({ bike, unit, job }) =>
        `${bike}, ${unit}: não se sabe quando foi a última revisão. Por favor mande fazer: ${job}.`,
      'over-interval': ({ bike, unit, job, reason }) =>
        reason === ''
          ? `${bike}, ${unit}: ${job} em atraso.`
          : `${reason}: ${bike}, ${unit}, ${job} em atraso.`,
      due: ({ bike, unit, job, reason }) =>
        reason === ''
          ? `${bike}, ${unit}: é altura de ${job}.`
          : `${reason}: ${bike}, ${unit}, é altura de ${job}.`,
      'coming-up': ({ bike, unit, job, likely, reason }) => {
        if (reason !== '') return `${reason}: até lá, ${bike}, ${unit}, precisa de ${job}.`;
        return likely === null
          ? `${bike}, ${unit}: em breve precisa de ${job}.`
          : `${bike}, ${unit}: deverá precisar de ${job} ${likely}.`;
      },
    },
    reason: {
      months: (months, since) => `${months} desde ${since}`,
      monthsAhead: (months, since, day) => `${months} desde ${since} acabam a ${day}`,
      'terrain-hours': (used, limit) => `${used} de ${limit} (horas de terreno)`,
      'moving-hours': (used, limit) => `${used} de ${limit} (horas em movimento)`,
    },
    jobs: {
      'lower-leg': 'Tratam-se anéis de espuma, raspadores e óleo, antes que o óleo sujo gaste as barras.',
      damper: 'O hidráulico é aberto e leva óleo e vedantes novos: o óleo velho amortece menos.',
      'air-sleeve': 'O corpo de ar sai, é limpo e leva vedantes e massa novos.',
      'wipers-only': 'Trocam-se os raspadores, que protegem o óleo da sujidade.',
      'air-spring': 'A mola de ar é aberta, limpa e lubrificada, para se mover bem e segurar o ar.',
      'seal-repair': 'Troca-se o vedante que perde.',
      tune: 'O hidráulico é afinado de novo para quem anda com ele.',
      'travel-change': 'Muda-se o curso.',
      'bushing-resize': 'Os casquilhos voltam à medida.',
      bushings: 'Casquilhos e apoios são verificados, e trocados onde há folga.',
      full: 'Desmontagem e limpeza, com óleo e vedantes novos.',
    },
    bring: 'Traga-a limpa.',
    theJobs: 'O que se faz',
    byHand: 'introduzida à mão',
    hoursOf: (terrain, moving) => `terreno ${terrain} (estimativa), movimento ${moving}`,
    somethingElse: 'Outra coisa? Já feita, mais tarde, vendida ou guardada',
    inItsPlace: (job, because) =>
      `Sugerimos antes ${job}${because === null ? ', também a fazer' : `: ${because}`}.`,
    noRidesSince: (day) => `Sem voltas desde ${day}: palpite.`,
    terrainHours: 'Horas de terreno (estimativa)',
    movingHours: 'Horas em movimento',
    advised: (tag, job, day, why) => `Aconselhámos a ${day}, para ${tag}: ${job}. ${why}`,
    declared: 'Declaradas por si',
    declaredAll: 'todas; não veio nenhum ficheiro',
    stillSo: (bike, hours, ground, months) =>
      `Disse-nos, sobre ${bike}: cerca de ${hours} por semana, quase sempre em terreno ${ground}, ${months}. Continua assim?`,
    stillSoLink: 'Dizer que sim, ou mudar',
    ofInterval: (hours, interval) => `${hours} de ${interval}`,
    ofAtMost: (hours, ceiling) => `${hours} de até ${ceiling}`,
    left: (hours) => `faltam ${hours}`,
    over: (hours) => `${hours} a mais`,
    countedSince: 'A contar de',
    atMostMonths: (day, months) => `${day}; até ${months}`,
    comesFirst: 'Vem primeiro',
    limit: {
      'terrain-hours': 'horas de terreno',
      'moving-hours': 'horas em movimento',
      months: 'meses',
    },
    price: 'Preço',
    turnaround: 'Demora',
    takes: (turnaround) => `demora ${turnaround}`,
    lastRides: (bike) => (bike === null ? 'Últimas voltas' : `Últimas voltas, ${bike}`),
    ride: (where, moving, terrain, ground) => `${where}: ${moving}, terreno ${terrain}, ${ground}`,
    ownPage: 'As suas bicicletas e horas',
    wrongBike: 'Bicicleta errada?',
    wrongBikeWithout: 'Bicicleta errada? Diga-nos.',
    freeDays: 'Dias livres',
    askForDay: 'Pedir um dia',
    alreadyDone: 'Já foi feita',
    later: 'Mais tarde',
    soldOrStored: 'Vendida ou guardada',
    withoutLinks: (contact) => `Para marcar, ou já feita, vendida ou guardada: ${contact}.`,
  },

  digest: {
    subject: (day) => `Revisões, ${day}`,
    newSince: (count, day) => (day === null ? count : `${count} desde ${day}`),
    nothing: 'Nada a fazer nem a aproximar-se.',
    stopRiding: 'Não andar: mandar verificar primeiro',
    byDate: 'Por data',
    columns: ['Previsão', 'O quê'],
    now: 'agora',
    noDate: 'sem data',
    newMark: 'novo',
    notOnABike: 'fora de bicicleta',
    between: (from, to) => `${from} a ${to}`,
    hours: (terrain, moving) => `terreno ${terrain}, movimento ${moving}`,
    declared: (hours) => `das quais ${hours} declaradas`,
    sinceItCame: (terrain, moving) => `terreno ${terrain}, movimento ${moving} desde que veio`,
    reached: (what, day) => `limite de ${what} atingido a ${day}`,
    monthsUp: (months, day) => `limite de ${months} a ${day}`,
    comesFirst: (what) => `vem primeiro: ${what}`,
    dateNote:
      'A data pode falhar para cedo ou para tarde. As datas por baixo são o seu intervalo de 80\u00a0%.',
    toCall: 'Por favor telefone: as mensagens não lhes chegam',
    openList: 'Abrir a lista',
  },

  confirm: {
    subject: (workshop) => `${workshop}: este endereço é seu?`,
    why: (workshop) =>
      `${workshop} gostaria de escrever para este endereço quando se aproximar uma revisão da sua bicicleta. Por favor confirme que é seu. Até lá, não enviamos mais nada.`,
    otherwise: 'Se não esperava esta mensagem, não faça nada: não virá outra.',
    link: 'Sim, este endereço é meu',
    withoutLink: (contact) => `Para o confirmar, ${contact}.`,
  },

  silence: {
    subject: (day) => `Sem voltas desde ${day}: está a descansar?`,
    resting: (day) => `A última volta que nos chegou é de ${day}. Se está a descansar, não há nada a fazer.`,
    stopped: (contact) =>
      `Se tem andado, os ficheiros das voltas deixaram de nos chegar. Por favor entregue os novos, ou ${contact}.`,
    estimates: 'Até chegarem voltas, as datas que damos são palpites, e é isso que dizem.',
    link: 'Entregar ficheiros das voltas',
  },

  invitation: {
    subject: (bike) => `Há lugar na bancada antes da época: ${bike}`,
    room: (week, month) =>
      `A nossa bancada tem lugar na semana de ${week}. Um lugar nessa altura poupa-lhe a fila que chega em ${month}.`,
    job: (bike, unit, job) => `${bike} (${unit}): ${job}, pronto para a época.`,
    noHurry: 'Isto é um convite. Se não lhe convém, não há nada a fazer.',
    ownPage: 'Escolher um dia na sua página',
  },

  booking: {
    subject: {
      booked: (bike, day) => `Marcado: ${bike}, ${day}`,
      moved: (bike, day) => `Novo dia: ${bike}, ${day}`,
      cancelled: (bike, day) => `Desmarcado: ${bike}, ${day}`,
      done: (bike, day) => `Já está feito: ${bike}, ${day} fica livre`,
      declined: (bike, day) => `Não é possível: ${bike}, ${day}`,
    },
    said: {
      booked: ({ bike, unit, job }, day) => `${bike} (${unit}), ${job}: marcado para ${day}.`,
      moved: ({ bike, unit, job }, day) => `${bike} (${unit}), ${job}: o novo dia é ${day}.`,
      cancelled: ({ bike, unit, job }, day) => `${bike} (${unit}), ${job}: o dia ${day} foi desmarcado.`,
      done: ({ bike, unit, job }, day) =>
        `${bike} (${unit}), ${job}: já está feito, por isso ${day} já não é preciso.`,
      declined: ({ bike, unit, job }, day) =>
        `Pediu ${day} para ${bike} (${unit}), ${job}. Lamentamos, esse dia não é possível.`,
    },
    offered: (days) => `Outros dias livres: ${days}.`,
    change: (contact) => `Se não lhe convém, ${contact}.`,
    changeDay: 'Mudar ou desmarcar este dia',
    otherDay: 'Escolher outro dia',
    calendar: 'O ficheiro em anexo atualiza o seu calendário.',
  },

  dayAsked: {
    subject: (rider, day) => `${rider} pede ${day}`,
    said: ({ bike, unit, job }, rider, day) => `${rider} pede ${day}: ${bike} (${unit}), ${job}.`,
    also: (jobs) => `Na mesma visita: ${jobs}.`,
    wishes: (wish) => `O ciclista escreve: “${wish}”`,
    holds:
      'O lugar fica guardado até marcar ou recusar. Ao marcar, vai uma mensagem com uma entrada de calendário.',
    link: 'Abrir as marcações',
  },

  dayWithdrawn: {
    subject: {
      withdrawn: (rider, day) => `${rider} já não pede ${day}`,
      cancelled: (rider, day) => `${rider} não vem ${day}`,
      missed: (rider, day) => `${rider} não veio ${day}`,
    },
    said: {
      withdrawn: ({ bike, unit, job }, rider, day) =>
        `${rider} já não pede ${day}: ${bike} (${unit}), ${job}. Esse lugar está livre outra vez.`,
      cancelled: ({ bike, unit, job }, rider, day) =>
        `${rider} não vem ${day}: ${bike} (${unit}), ${job}. Esse lugar está livre outra vez.`,
      missed: ({ bike, unit, job }, rider, day) =>
        `${rider} diz que não veio ${day}: ${bike} (${unit}), ${job}. O trabalho está outra vez por marcar.`,
    },
  },

  dayMoved: {
    subject: (rider, day) => `${rider} mudou um dia marcado para ${day}`,
    said: ({ bike, unit, job }, rider, was, day) =>
      `${rider} mudou ${bike} (${unit}), ${job}: era ${was}, passa a ser ${day}.`,
    holds:
      'Está marcado, porque a bancada tem lugar nesse dia. Se não lhe der jeito, marque outro dia: o ciclista recebe uma mensagem.',
  },

  ready: {
    subject: (bike) => `Pronta a levantar: ${bike}`,
    said: (bike, unit) => `${bike} (${unit}) está pronta e pode ser levantada.`,
    did: (services) => `Feito: ${services}.`,
    price: (price) => `Preço combinado: ${price}.`,
    next: (service, day) => `A seguir, tanto quanto se sabe hoje: ${service}, provavelmente ${day}.`,
    call: (contact) => `Para dizer quando lhe convém, ${contact}.`,
  },

  jobQuestion: {
    subject: (bike) => `Podemos fazer mais? ${bike}`,
    seen: (bike, unit, why) => `${bike} (${unit}) está aberta na nossa bancada. O que vimos: ${why}`,
    advise: (job) => `Aconselhamos: ${job}.`,
    adviseInstead: (job, from) => `Aconselhamos: ${job}, em vez de ${from}.`,
    day: 'Pronta até',
    waits: 'Espera pela sua resposta: sim, ou agora não. Com “agora não” fazemos aquilo para que a trouxe.',
    link: 'Responder',
    linkWithPhotos: 'Ver as fotografias e responder',
    call: (contact) => `Ou diga-nos: ${contact}.`,
  },

  found: {
    subject: (bike) => `Pronta a levantar, e o que se encontrou: ${bike}`,
    title: 'O que se encontrou',
    stop: 'Não ande com ela antes de um técnico qualificado ver isto:',
    stopHow: (contact) => `Fale primeiro connosco: ${contact}.`,
    soon: 'Mande verificar isto em breve; na dúvida, não ande:',
    soonHow: (contact) => `Dizemos-lhe o que fazer: ${contact}.`,
    seen: 'Visto por dentro',
    sound: 'Não se viu nada que precise de ser feito em breve.',
    hours: (terrain, moving) =>
      `Nesse dia tinha ${terrain} (horas de terreno, uma estimativa; ${moving} em movimento) desde a última revisão destas.`,
    next: (service, when) => `A seguir, tanto quanto se sabe hoje: ${service}, ${when}.`,
    parts: 'Peças e óleo que entraram',
    setUp: 'Afinação, como foi anotada',
    left: 'Afinação com que saiu',
    link: 'Ver tudo',
    linkWithPhotos: 'Ver tudo, com fotografias',
    later: 'Entregue as suas voltas e podemos dizer quando é provável a próxima revisão.',
    stopLink: 'Parar estas mensagens depois de uma revisão',
    stopWithout: (contact) => `Para parar estas mensagens, ou para perguntar algo: ${contact}.`,
    stopPage: {
      says: 'Depois de uma revisão, uma mensagem diz o que se encontrou. Pode parar estas mensagens. Continua a saber quando a bicicleta está pronta.',
      submit: 'Parar estas mensagens',
      stopped: 'Estas mensagens estão paradas. Pode continuar a ler na sua página o que se encontrou.',
      again: 'Voltar a enviar',
      on: 'Volta a receber estas mensagens.',
    },
    print: 'Para imprimir, use o comando de impressão do navegador.',
    done: (services, day) => `Feito em ${day}: ${services}.`,
    price: (price) => `Preço: ${price}.`,
    corrected: 'O que a oficina corrigir aparece logo aqui.',
  },

  filesTaken: {
    subject: (rides) =>
      rides === 0
        ? 'A sua mensagem chegou'
        : rides === 1
          ? 'A sua volta chegou'
          : `As suas ${rides} voltas chegaram`,
    address: (address) =>
      `Também pode enviar os ficheiros das voltas por e-mail, para um endereço só seu: ${address}`,
    empty: 'Não havia nenhum ficheiro de volta na sua mensagem. Junte-o e envie outra vez.',
    counted: (rides, moving) =>
      rides === 1
        ? `Conta uma volta: ${moving} em movimento.`
        : `Contam ${rides} voltas: ${moving} em movimento.`,
    grew: 'As horas de terreno (estimativa) aumentaram:',
    asks: (rides) =>
      rides === 1 ? 'Uma volta precisa de uma resposta.' : `${rides} voltas precisam de uma resposta.`,
    answer: 'Responder',
    others: 'Outros ficheiros',
    more: (files) => (files === 1 ? 'e mais um' : `e mais ${files}`),
    stopWithout: (contact) => `Para parar estas respostas, ou para perguntar algo: ${contact}.`,
    stop: 'Parar estas respostas',
  },

  stopRiding: {
    subject: (bike, unit) => `Não ande com ${bike}: ${unit} por verificar`,
    said: (bike, unit) => `Por favor não ande com ${bike}. Primeiro é preciso verificar: ${unit}.`,
    boxed: (unit) => `Por favor não ande com esta unidade: ${unit}. Primeiro é preciso verificá-la.`,
    why: (why) => `Porquê: ${why}`,
    call: (contact) => `Antes de mais, fale connosco: ${contact}.`,
    phone: (phone) => `Ligar para ${phone}`,
    forWorkshop: {
      subject: (whose, unit) => `Não andar: ${whose}, ${unit}`,
      said: (whose, unit) => `${whose}: não andar; mandar verificar ${unit} primeiro.`,
      told: (rider, phone) =>
        phone === null
          ? `Não há telefone de ${rider} aqui.`
          : `Telefone de ${rider}: ${phone}. A mensagem pode ficar por ler: telefone.`,
    },
  },

  feed: {
    title: (workshop) => `${workshop}: revisões marcadas`,
    askedFor: (summary) => `Pedido: ${summary}`,
  },

  link: {
    fresh: {
      subject: (workshop) => `${workshop}: uma ligação nova`,
      said: 'A ligação que foi aberta é demasiado antiga. Aqui está uma nova para a mesma página.',
      label: 'Abrir a página',
      otherwise: 'Se não a pediu, não faça nada.',
    },
    first: {
      subject: (workshop) => `${workshop}: as suas bicicletas e horas`,
      said: 'Esta é a sua página. Veja as suas bicicletas, as horas e o que se aproxima, envie os ficheiros das voltas e peça um dia.',
      label: 'Abrir a sua página',
      otherwise:
        'Quem tiver esta ligação vê o mesmo, por isso guarde-a para si. Funciona durante 60 dias. Depois a página pode enviar-lhe uma nova.',
    },
  },
};
