import type { settings as english } from '../../en/pages/settings.js';

export const settings: typeof english = {
  title: 'Definições',
  lead: 'Como a oficina assina as mensagens, quando está aberta, e quanto pesa uma hora.',
  workshopTitle: 'A oficina',
  address: 'Morada',
  addressHint: 'Aparece em cada mensagem aos ciclistas, linha a linha. Pode ficar vazia.',
  openingHours: 'Horário',
  openingHoursHint:
    'Numa só linha, na língua da maioria dos ciclistas: vai tal como está escrito, em todas as mensagens. Pode ficar vazio.',
  openDaysHint: 'Só nestes se oferecem dias aos ciclistas e se manda a lista à oficina.',
  digestHour: 'Hora das mensagens do dia',
  digestHourHint: 'Pelo relógio da oficina: a lista para a oficina, e os avisos aos ciclistas.',
  noticeDays: 'Dias de aviso',
  noticeDaysHint:
    'Quantos dias antes da data provável uma revisão está a aproximar-se, e os ciclistas são avisados.',
  languageHint: 'Destas páginas e das mensagens da própria oficina; cada ciclista tem a sua língua.',
  save: 'Guardar as definições',
  saved: 'As definições estão guardadas.',
  unchanged: 'Não havia nada a guardar: as definições ficam como estavam.',
  lastSet: (who, day) => `Como definido por ${who}, ${day}.`,
  needAddress: 'Uma morada tem 500 caracteres no máximo.',
  needOpeningHours: 'O horário tem 200 caracteres no máximo, numa só linha.',
  needDigestHour: 'Escolha uma hora da lista.',
  needNoticeDays: 'Escreva os dias como número inteiro de 1 a 90.',

  weightsTitle: 'Pesos do terreno',
  weights: {
    title: 'Pesos do terreno',
    lead: 'Quanto conta uma hora, pelo trabalho que o terreno deu à suspensão. Essa severidade é uma estimativa; entre os três pontos o peso segue, fora deles fica igual.',
    now: (smooth, typical, rough) =>
      `Agora uma hora conta ${smooth} em terreno suave, ${typical} num trilho normal e ${rough} em terreno duro.`,
    change: 'Alterar os pesos',
    back: 'Todas as definições',
    smooth: 'Terreno suave',
    smoothHint: 'Na severidade 0,3: uma estrada.',
    typical: 'Trilho normal',
    typicalHint: 'Na severidade 1.',
    rough: 'Terreno duro',
    roughHint: 'Na severidade 2.',
    needWeight: (low, high) => `Escreva um número de ${low} a ${high}.`,
    bounds: 'Nenhuma hora conta menos de 0,5 nem mais de 3; nas bicicletas de uma frota pode contar até 4.',
    needOrder: 'Terreno mais duro não pode pesar menos: os três números não podem descer.',
    previewRule: (smooth, typical, rough) => `Com ${smooth}, ${typical} e ${rough}:`,
    save: 'Guardar estes pesos',
    columns: { unit: 'Unidade', service: 'Revisão', before: 'Estado agora', after: 'Estado depois' },
    mails: (riders) =>
      riders === 0
        ? 'Por isso não se escreveria a nenhum ciclista.'
        : riders === 1
          ? 'Por isso poderia escrever-se a 1 ciclista.'
          : `Por isso poderia escrever-se a ${riders} ciclistas.`,
    mailsHow: 'A lista da própria oficina conta-as todas.',
    saved: 'Os pesos estão guardados; todas as voltas foram pesadas e todas as unidades recalculadas.',
    unchanged: 'Não havia nada a guardar: os pesos ficam como estavam.',
  },
};
