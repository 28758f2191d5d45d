import type { plan as english } from '../../en/pages/plan.js';

export const plan: typeof english = {
  print: 'Para ter em papel, imprima esta página.',
  range: (low, high) => (low === high ? low : `${low} a ${high}`),

  load: {
    title: 'Semanas de bancada e peças',
    lead: 'O que as próximas semanas devem trazer à bancada, e o que a prateleira tem de ter para isso.',
    crowded: (weeks) => `Cheias: ${weeks}.`,
    noneCrowded: 'Nenhuma semana está cheia.',
    columns: {
      week: 'Semana',
      due: 'A fazer',
      services: 'Esperadas na bancada',
      minutes: 'Minutos de bancada',
      usable: 'A usar',
      full: 'Risco de ser demais',
    },
    spread: 'intervalo de 80\u00a0%',
    booked: (count) => (count === 1 ? '1 tem dia' : `${count} têm dia`),
    minutes: (count) => `${count} min`,
    openDays: (count) => (count === 0 ? 'fechada' : count === 1 ? '1 dia aberto' : `${count} dias abertos`),
    places: (count) => (count === 1 ? '1 lugar' : `${count} lugares`),
    isCrowded: 'cheia',
    how: (share) =>
      `Supomos que vêm ${share} dos ciclistas avisados, na semana em que chega a altura da revisão. O que já está por fazer está na primeira semana. Bicicletas sem ciclista contam por inteiro.`,
    howTitle: 'Como isto se calcula',
    leftOut: (parts) => `Fora destes números: ${parts}.`,
    out: {
      onTheBench: (count) => `${count} na bancada sem nada por fazer`,
      stopRiding: (count) => `${count} com a marca “não andar”`,
      historyUnknown: (count) => `${count} de historial desconhecido`,
      boxed: (count) => `${count} em nenhuma bicicleta`,
    },
    plotTitle: 'Minutos de bancada por semana',
    axis: 'minutos na bancada',
    across: 'semana desde',
    plotSays: (weeks) => `Minutos esperados com a sua margem, face aos minutos a usar. ${weeks}`,
    plotWeek: (week, mean, low, high, usable) => `${week}: ${mean}, de ${low} a ${high}, de ${usable}.`,
    legend: {
      range: 'intervalo de 80\u00a0%',
      mean: 'esperado',
      usable: 'minutos a usar',
      usableAbove: (weeks) =>
        `minutos a usar: mais do que a imagem mostra, em ${weeks} ${weeks === 1 ? 'semana' : 'semanas'}`,
    },

    partsTitle: 'Peças e óleo',
    partsLead: (weeks) =>
      `Para estas ${weeks} semanas. Peças e óleo estão como os escreveu. Onde não escreveu nada, cada revisão leva um conjunto.`,
    partColumns: {
      part: 'Peça',
      left: 'Na prateleira',
      expected: 'Necessidade esperada',
      cover: 'Cobre 90\u00a0%',
      order: 'Encomendar até',
    },
    notCounted: 'não contada',
    shortFrom: (day) => `falta a partir de ${day}`,
    late: 'tarde: encomendar hoje',
    enough: 'chega',
    orderCount: (amount) => `${amount} a encomendar`,
    millilitres: (amount) => `${amount} ml`,
    byWeek: (amounts) => `por semana: ${amounts}`,
    noParts: 'Não se espera nenhuma revisão nestas semanas. As revisões esperam-se de unidades que andam.',
    setOf: (kind, service) => `conjunto (${kind}, ${service})`,

    countTitle: 'Contar a prateleira',
    quietTitle: 'Semanas calmas',
    quietLead: 'Nestas semanas há lugar. Convide quem deve precisar de uma revisão antes dos meses cheios.',
    invited: 'Quem foi convidado, e o que deu',
    quietFree: (minutes) => `${minutes} livres`,
    invite: (week) => `Convidar para a semana de ${week}`,
  },

  quiet: {
    title: 'Convidar para uma semana calma',
    lead: (week, month) =>
      `Semana de ${week}. Aqui está o que deve ficar por fazer até ao fim de ${month}, quando vem mais gente; o pior primeiro.`,
    none: 'Nenhuma semana está calma: nenhuma antes dos meses cheios tem lugar.',
    busy: 'São os meses em que vem mais gente. As semanas calmas procuram-se no inverno.',
    noneDue: 'Até lá não há mais nada a fazer: já tem dia, ou já foi convidado neste inverno.',
    room: (count) =>
      count === 0
        ? 'A semana não tem lugar para o primeiro.'
        : count === 1
          ? 'A semana tem lugar para 1: está assinalado.'
          : `A semana tem lugar para ${count}: estão assinalados.`,
    likely: (day) => `previsto para ${day}`,
    someDay: 'deve ficar por fazer até lá',
    submit: 'Convidar os assinalados',
    tells:
      'Cada ciclista recebe uma mensagem, à hora dos lembretes. Diz que a bancada tem lugar e como pedir um dia, nunca que algo está atrasado. Cada unidade é convidada uma vez por inverno.',
    resting: 'Os lembretes ainda não começaram. Os convites saem depois disso.',
    done: 'Estão convidados. Veja em baixo o resultado.',
    takeBack: 'Retirar',
    takeBackOf: (unit) => `Retirar o convite: ${unit}`,
    takenBack: 'O convite foi retirado. Não sai nenhuma mensagem por ele.',
    takenBackWhy: 'convite retirado',
    callsTitle: 'Telefonar a estes',
    callsLead: 'As mensagens não chegam a estes ciclistas.',
    invitedTitle: 'Convidados',
    counted: (all, parts) => `${all} convidados: ${parts}.`,
    came: {
      done: 'revisão feita',
      booked: 'tem dia',
      'not-now': 'agora não',
      'to-call': 'nenhuma mensagem chegou: telefonar',
      told: 'avisado, ainda sem resposta',
      waits: 'a mensagem espera',
    },
    counts: {
      done: (count) => (count === '1' ? '1 feito' : `${count} feitos`),
      booked: (count) => `${count} com dia`,
      'not-now': (count) => `${count} agora não`,
      'to-call': (count) => `${count} a telefonar`,
      told: (count) => `${count} sem resposta`,
      waits: (count) => `${count} com a mensagem à espera`,
    },
    columns: {
      unit: 'Unidade',
      service: 'Revisão',
      rider: 'Ciclista',
      week: 'Semana',
      came: 'Resultado',
      likely: 'Previsto para',
    },
  },

  races: {
    title: 'Provas',
    lead: 'O que tem de ser revisto antes de cada prova, para que nenhum intervalo acabe na descida.',
    none: 'Não há provas à vista. Registe uma, e aqui fica o que tem de ser revisto antes dela.',
    gone: 'Essa prova não existe.',
    sheet: 'Folha para imprimir',
    hours: (practice, race) => `${practice} de treino e ${race} de prova por bicicleta, segundo o esperado`,
    tally: (jobs) =>
      jobs === 0
        ? 'Nada tem de ser revisto antes.'
        : jobs === 1
          ? '1 revisão antes'
          : `${jobs} revisões antes`,
    firstBy: (day) => `a primeira até ${day}`,
    columns: { race: 'Prova', when: 'Quando', bikes: 'Bicicletas', before: 'Antes dela' },
    jobColumns: {
      by: 'Até',
      unit: 'Unidade',
      bike: 'Bicicleta',
      service: 'Revisão',
      why: 'Porquê',
      done: 'Feita',
    },
    noDay: 'nenhum dia aberto antes',
    late: 'tarde: já',
    shakedown: 'depois, uma volta de ensaio',
    why: {
      'terrain-hours': (service, hours, limit) =>
        `${service}: ${hours} de terreno depois da prova, de ${limit}`,
      'moving-hours': (service, hours, limit) =>
        `${service}: ${hours} em movimento depois da prova, de ${limit}`,
      months: (service, day, isPast) => `${service}: os meses ${isPast ? 'acabaram' : 'acabam'} a ${day}`,
      none: (service) => `${service}: historial desconhecido, mandar abrir`,
    },
    stopped: (unit, bike) => `Não andar com ${unit} em ${bike}: mandar verificar antes de tudo.`,
    takes: (minutes) => `Ao todo ${minutes} na bancada.`,
    allFit: 'A bancada tem tempo para tudo.',
    notAllFit: (count) =>
      count === 1
        ? 'Para 1 a bancada não tem tempo até lá.'
        : `Para ${count} a bancada não tem tempo até lá.`,
    moreBy: {
      'short-first': (count) => `Com os trabalhos mais curtos primeiro, fazem-se mais ${count}.`,
      'due-first': (count) => `Pela ordem dos seus dias, fazem-se mais ${count}.`,
    },
    dueFirst: 'Pela ordem dos seus dias',
    onBench: (day, minutes) => `na bancada: ${day}, ${minutes}`,
    doesNotFit: (minutes) => `sem tempo na bancada até lá (${minutes})`,
    useSpare: (tag) => `${tag} é uma reserva que aguenta esta prova: troque-a para lá`,
    noSpare: 'nenhuma reserva aguenta esta prova: outra oficina, ou outra bicicleta',
    inPlace: (because) => `em vez do trabalho menor: ${because}`,
    bikesTitle: 'Bicicletas e o seu terreno',
    ground: (unit, weight, rides) => `${unit}: uma hora pesa ${weight}, por ${rides}`,
    noRides: (unit) => `${unit}: ainda sem voltas, supõe-se um trilho normal`,
    partsTitle: 'Para a carrinha',
    partsOfFit: 'Os trabalhos para que a bancada não tem tempo não estão incluídos.',
    partsLead:
      'Para levar: o que escreveu para cada revisão. Onde não escreveu nada, cada uma leva um conjunto.',
    partColumns: {
      part: 'Peça',
      before: 'Para as revisões antes',
      carry: 'Uma revisão pequena por unidade',
      spares: 'Sobressalentes',
      packed: 'Levada',
    },
    how: (days) =>
      `As revisões têm de estar feitas ${days} dias abertos antes da prova. Só se somam as horas de treino e de prova às já andadas. Outras voltas até lá não contam.`,
    back: 'Todas as provas',
  },

  day: {
    title: (day) => `Trabalhos do dia: ${day}`,
    lead: 'Por esta ordem.',
    on: 'Dia',
    show: 'Mostrar este dia',
    closed: 'A oficina está fechada neste dia.',
    usable: (minutes) => `${minutes} de bancada a usar.`,
    columns: { unit: 'Unidade', service: 'Revisão', why: 'Porquê', time: 'Tempo de bancada', takes: 'Leva' },
    reason: {
      booked: 'marcada',
      'asked-for': 'pedida, ainda não marcada',
      'on-the-bench': 'na oficina',
      race: 'prova',
      'over-interval': 'intervalo ultrapassado',
      due: 'a fazer',
    },
    forRace: (race, day) => `${race}, até ${day}`,
    soFar: (minutes) => `${minutes} até aqui`,
    another: 'outro dia: o tempo acabou',
    nothing: 'Não há trabalhos para este dia. Os trabalhos vêm das marcações e do que há a fazer.',
    partsTitle: 'Da prateleira',
    cardsTitle: 'Fichas de bancada',
    cardsLead: 'Uma por cada trabalho que cabe, cada uma numa folha A4.',
  },

  findings: {
    title: 'O que mostram as observações',
    lead: 'Anéis de espuma que já estavam escuros na revisão, face às horas que tinham.',
    seen: (services, dark) => `Visto até agora: anéis de espuma em ${services}, escuros em ${dark}.`,
    unusable: (count) =>
      count === 1 ? '1 revisão não se pôde usar:' : `${count} revisões não se puderam usar:`,
    why: {
      'never-new': (count) => `${count}: ninguém disse ainda quando os anéis foram novos`,
      'not-said': (count) => `${count}: uma revisão anterior não disse se eram os mesmos ou novos`,
      'not-ridden': (count) => `${count}: não há voltas registadas desde que os anéis foram novos`,
    },
    silent: (services, dark) =>
      `Ainda é cedo para dizer. São precisas pelo menos ${services} revisões, ${dark} delas com anéis escuros. Registe em cada revisão como estavam os anéis.`,
    suggested: (hours) =>
      `Até ${hours} (horas de terreno), nove em dez anéis de espuma ainda não estão escuros.`,
    range: (low, high) => `Intervalo de 80\u00a0%: ${low} a ${high}.`,
    notReached:
      'Os anéis vistos até agora não estão mais escuros depois de mais horas, por isso não sugerem nenhum intervalo.',
    suggestedHow:
      'Com este intervalo, a revisão das bainhas fica por fazer nessa altura. É uma sugestão: o manual do fabricante vem primeiro.',
    tryIt: (hours) => `Ver o que mudaria com um intervalo de ${hours}`,
    missing: (services, dark) => `Ainda faltam: ${services} revisões, ${dark} anéis escuros.`,
    allDark: (hours) =>
      `Todos os anéis de espuma vistos estavam escuros, os primeiros com ${hours} de horas de terreno.`,
    allDarkHow:
      'Escurecem antes disso, por isso ainda não se pode sugerir um intervalo. Abra algumas unidades mais cedo, dentro do que diz o manual do fabricante, e registe como estavam os anéis.',
    betterTitle: 'Horas de terreno ou horas em movimento?',
    better: {
      'terrain-hours': 'As horas de terreno dizem melhor quando os anéis escurecem.',
      'moving-hours':
        'As horas em movimento dizem melhor quando os anéis escurecem. Os pesos do terreno podem não servir para o terreno daqui.',
      undecided: 'Ainda é cedo para dizer quais dizem melhor quando os anéis escurecem.',
    },
    pairs: (terrain, moving) =>
      `De todos os pares de um anel escuro e um claro, o escuro tinha mais horas de terreno em ${terrain}, mais horas em movimento em ${moving}. Metade seria acaso.`,
    lead80: (low, high) =>
      `A diferença entre os dois vai de ${low} a ${high} pontos, num intervalo de 80\u00a0%.`,
    howTitle: 'Como isto se calcula',
    tableTitle: 'O que se viu, por horas',
    columns: { hours: 'A partir de horas de terreno', share: 'Parte que escureceu', services: 'Revisões' },
    how: 'A parte escura é estimada sem supor uma curva: só pode subir com as horas. As horas com que nove em dez ainda não estão escuros vêm de duas curvas, ajustadas a unidades sorteadas de novo 400 vezes. Em 1 000 simulações de cada, o intervalo continha o valor verdadeiro cerca de 80\u00a0% das vezes, com 40, 80 e 160 revisões. Os anéis só se veem nas revisões, por isso nem todas as horas são vistas por igual.',
    plotTitle: 'Parte que escureceu por horas de terreno',
    plotSays: (steps, range) =>
      `Uma linha de degraus que sobe: ${steps}.${range === null ? '' : ` ${range}`}`,
    plotRange: (low, high) => `O intervalo sugerido: de ${low} a ${high}.`,
    plotStep: (hours, share) => `${share} a partir de ${hours}`,
    axis: 'horas de terreno',
    up: 'parte que escureceu',
    legend: {
      share: 'parte que escureceu',
      tenth: 'um em dez',
      range: 'intervalo sugerido, margem de 80\u00a0%',
    },
  },
};
