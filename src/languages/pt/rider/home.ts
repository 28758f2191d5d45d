import type { home as english } from '../../en/rider/home.js';

export const home: typeof english = {
  title: 'Fazer em casa',
  at: {
    allowed: 'Faço em casa',
    chosen: 'O seu trabalho em casa',
    asked: 'Ainda o vai fazer em casa?',
  },
  lead: (service) =>
    `Pode fazer em casa, com peças e conselhos da oficina: ${service}. Esta página guia-o passo a passo.`,
  rests:
    'Não se guarda nenhum dia. Durante três semanas nenhuma mensagem diz que se aproxima. Continua a saber quando é altura de o fazer.',
  kit: 'O conjunto de peças',
  toPickUp: 'Levante-o na oficina.',
  pickedUp: 'Já o tem.',
  chosen: 'Obrigado. A oficina prepara as peças. Esta página guia-o no trabalho.',
  notAllowed: 'Este trabalho é feito na oficina: peça um dia, ou telefone.',
  isBooked:
    'Já há um dia guardado para uma visita com outros trabalhos. Mande fazê-lo nesse dia, ou desmarque-o primeiro.',
  leave: 'Prefiro levá-lo à oficina',
  left: 'Muito bem. Peça um dia quando lhe convier.',
  asked: (day) => `Em ${day} quis fazê-lo em casa. Ainda o vai fazer?`,
  still: 'Sim, ainda vou fazer',
  stillSaid: 'Muito bem. Esta página não volta a perguntar.',
  print: 'Imprima esta página, ou deixe-a aberta no telemóvel.',
  manualFirst: 'O manual do fabricante vem primeiro. Onde aqui não há valor, veja lá; não adivinhe nenhum.',
  stopTitle: 'Pare aqui e traga-o',
  stopIf: (words) => `Pare aqui e traga-o: ${words}.`,
  stopHow: 'Não force nada, não ande com ele, e telefone para a oficina.',
  deeds: {
    wash: 'Lave e seque por fora, para não entrar areia.',
    'off-bike':
      'Tire a unidade da bicicleta, ou tire dela a roda e a pinça do travão; nada de óleo no travão.',
    'nuts-back':
      'Com o ar fora: alivie as porcas de baixo umas voltas e solte cada lado com um maço de plástico sobre a chave.',
    'lowers-off': 'Apanhe o óleo velho, tire as porcas e puxe as bainhas a direito.',
    'can-off': 'Com o ar fora: desaperte o corpo de ar à mão, devagar. Pare se empurrar ou assobiar.',
    clean: 'Limpe tudo com um pano sem pelos. Tire a massa e o óleo velhos.',
    'soak-rings': 'Ponha os anéis de espuma novos, embebidos no óleo que o manual indica.',
    'fit-seals':
      'Monte o que há de novo, com massa como diz o manual. As anilhas de uso único são sempre novas.',
    'oil-in': 'Meça o óleo de cada lado e deite-o.',
    'grease-in': 'Ponha massa e óleo no corpo de ar como diz o manual.',
    'lowers-on': 'Empurre as bainhas a direito: nenhum lábio de vedante pode dobrar.',
    'can-on': 'Enrosque o corpo de ar à mão, a direito, até assentar.',
    'nuts-tight': 'Aperte as porcas de baixo com chave dinamométrica.',
    'pressure-in': 'Encha por fases e mova a unidade umas vezes depois de cada uma.',
    'mounts-tight': 'Monte-o com chave dinamométrica.',
    'on-bike': 'Volte a pôr a roda e a pinça do travão, com chave dinamométrica.',
  },
  done: 'Feito? Diga o que viu',
  doneLead: 'Um toque em cada. A oficina vê, e as horas recomeçam.',
  day: 'Dia em que foi feito',
  questions: {
    foamRings: 'Os anéis velhos estavam',
    wipers: 'Os raspadores estão',
    stanchions: 'As barras estão',
    shaft: 'A haste está',
    damper: 'Move-se',
    leaks: 'Fugas',
  },
  more: 'Vi outra coisa com que não se pode andar',
  photo: 'Tirar uma fotografia e registar',
  photoHint: (megabytes) =>
    `Uma fotografia, JPEG, PNG ou WebP, até ${megabytes} MB. É apagada quando a oficina o esquecer.`,
  log: 'Registar sem fotografia',
  need: 'Responda às quatro perguntas. Nada foi guardado.',
  tooMuch: 'É mais do que uma fotografia, ou é grande demais. Nada foi guardado.',
  logged: (service, day) => `Obrigado. Fica registado como feito em casa: ${service}, ${day}.`,
  bad: (seen) =>
    `Mande verificar em breve e, na dúvida, não ande (${seen}). A oficina fica avisada e telefona-lhe.`,
  stopped: (seen) => `Não ande com ele (${seen}). A oficina é avisada já; telefone-lhe, por favor.`,
  gone: 'Isto já foi registado. Nada foi alterado.',
  stopWhy: (seen) => `feito em casa: ${seen}`,
};
