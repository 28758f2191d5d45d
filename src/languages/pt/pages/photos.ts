import type { photos as english } from '../../en/pages/photos.js';

export const photos: typeof english = {
  title: 'Fotografias',
  add: 'Juntar uma fotografia',
  shows: 'O que mostra',
  subjects: {
    rings: 'Anéis em papel branco',
    oil: 'Óleo',
    seals: 'Raspadores e retentores',
    stanchions: 'Barras ou haste',
    damage: 'Dano',
    other: 'Outra coisa',
  },
  showsPerson: 'Mostra uma pessoa ou um nome',
  showsPersonHint: 'Uma fotografia assim é apagada quando o seu ciclista é esquecido.',
  camera: 'Tirar uma fotografia',
  choose: 'Escolher ficheiros',
  send: 'Enviar',
  hint: (most, megabytes) =>
    `JPEG, PNG ou WebP, até ${most} de cada vez e ${megabytes} MB cada. Onde e com que foi tirada não se guarda.`,
  sending: 'A fotografia está a ser enviada.',
  broken: 'Não chegou. Veja se tem ligação e escolha-a de novo.',
  of: (caption) => `Fotografia: ${caption}`,
  remove: 'Retirar',
  removedWhy: 'a fotografia foi retirada',
  need: 'Escolha primeiro uma fotografia.',
  notThis: (name, why) => `${name}: ${why} Nada foi guardado.`,
  tooLarge: (megabytes) => `tem mais de ${megabytes} MB. Envie uma mais pequena.`,
  notReceived: {
    tooMany: 'São demasiadas de uma vez. Envie algumas agora e as outras depois.',
    tooMuch: 'É demasiado de uma vez. Envie menos fotografias.',
    noRoom: 'Não há espaço neste momento. Tente de novo dentro de um minuto.',
    notWhole: 'Não chegou inteira. Envie-a de novo.',
  },
  faults: {
    'no-picture': 'não é uma fotografia em JPEG, PNG ou WebP.',
    heic: 'este navegador não conseguiu converter o formato do telemóvel. Ponha a câmara em «mais compatível» ou envie um JPEG.',
    'too-many-pixels': 'tem mais de 40 milhões de píxeis. Envie uma mais pequena.',
    broken: 'está danificada e não se consegue ler. Tire-a de novo.',
    'too-slow': 'demorou demasiado a ler. Envie uma mais pequena.',
    busy: 'estão outras a ser lidas. Tente de novo dentro de um minuto.',
  },
};
