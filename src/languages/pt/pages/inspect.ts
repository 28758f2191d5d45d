import type { PageTexts } from '../../language.js';

export const inspect: PageTexts['inspect'] = {
  crash: {
    link: 'A lista depois da queda',
    ends: 'Uma marca “não andar” acaba com a lista depois da queda: o que se viu, o que resulta disso, e quem a tira.',
    title: (tag) => `Lista depois da queda: ${tag}`,
    lead: 'Tire a unidade da bicicleta, limpe-a, e olhe para cada peça com boa luz. Tem de se olhar para todas antes de se poder andar nela.',
    proves:
      'Uma inspeção mostra o que se pode ver. Não prova nada sobre fissuras escondidas: uma peça pode partir mais tarde sem aviso. Substitua o que o manual do fabricante manda substituir depois de uma queda. Na dúvida, substitua.',
    book: 'inspecionada depois de uma queda',
    why: (result, by) => `Lista depois da queda: ${result}, ${by}`,
    save: 'Guardar a lista',
  },
  history: {
    link: 'Inspecionar, ou verificar em segunda mão',
    title: (tag) => `Inspecionar: ${tag}`,
    lead: 'Para uma unidade cujo historial ninguém conhece, e para uma que muda de mãos. Deixe em branco o que ninguém viu.',
    proves:
      'Isto diz o que se viu nesse dia, e nada mais. Não diz nada sobre fissuras escondidas, sobre desgaste por dentro que ninguém abriu, nem sobre o que se andou antes.',
    book: 'inspecionada',
    save: 'Guardar o que se viu',
  },
  unknown: 'O historial fica desconhecido até alguém dizer o que conta a partir daqui.',
  on: 'Dia em que se viu',
  by: 'Quem viu',
  clears: 'Quem viu e responde pelo resultado',
  serial: 'Número de série como está na unidade',
  note: 'Nota',
  result: 'Resultado',
  results: {
    ride: 'andar: a marca é tirada',
    repair: 'reparar: não se anda até lá',
    replace: 'substituir: não se anda mais',
  },
  needResult: 'Escolha um resultado. Nada foi guardado.',
  needBy: 'Diga quem viu. Nada foi guardado.',
  from: 'O que conta a partir daqui',
  ends: {
    nothing: 'nada muda: é uma verificação para imprimir',
    service: 'uma revisão: registe-a a seguir, e as horas começam com ela',
    hours: 'as horas até esse dia, escritas em baixo',
  },
  terrain: 'Horas de terreno até esse dia',
  moving: 'Horas em movimento até esse dia',
  needHours: 'Escreva as duas horas, a partir de 0. Nada foi guardado.',
  notUnknown:
    'O historial já é conhecido. Se estiver errado, mude-o na página da unidade. Nada foi guardado.',
  sheet: 'Folha para imprimir',
  sheetTitle: { crash: 'Lista depois da queda', history: 'Verificação em segunda mão' },
  notSeen: 'não se viu',
  ifOpened: 'Anéis e óleo só se viram se a unidade foi aberta.',
  signature: 'assinatura',
  earlier: 'Vista antes',
  seenTitle: 'O que se viu',
  done: {
    crash: 'A lista está guardada. Está no livro.',
    cleared: 'A lista está guardada, e a marca foi tirada.',
    history: 'O que se viu está guardado. Está no livro.',
    hours: 'O que se viu está guardado, e as horas continuam a partir daí.',
  },
};
