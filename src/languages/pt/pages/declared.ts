import type { declared as english } from '../../en/pages/declared.js';

export const declared: typeof english = {
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
