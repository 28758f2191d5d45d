import type * as english from '../../en/pages/signIn.js';

export const signIn: typeof english.signIn = {
  kept: {
    waits: 'A sua sessão terminou. O que escreveu está guardado: entre para o enviar.',
    title: 'Enviar agora?',
    lead: 'Escreveu isto antes de entrar. Nada foi alterado ainda.',
    send: 'Enviar agora',
    leave: 'Não enviar',
  },
  title: 'Entrar',
  name: 'Nome',
  password: 'Palavra-passe',
  submit: 'Entrar',
  wrong: 'Nome ou palavra-passe errados. Nada foi alterado.',
  tooMany: 'Demasiadas tentativas erradas. Espere um quarto de hora e tente de novo.',
  busy: 'Há demasiadas pessoas a entrar neste momento. Tente de novo dentro de alguns segundos.',
  forgotten:
    'Esqueceu a palavra-passe? O proprietário define outra em Definições, Contas. Para a do próprio, corra na máquina: stanchion account NOME --password',
};

export const first: typeof english.first = {
  title: 'A sua oficina',
  lead: 'Ainda não há aqui nenhuma oficina. Diga algumas coisas sobre a sua; tudo se pode mudar depois.',
  importTitle: 'Ou importe um ficheiro',
  importSays: 'Um ficheiro com a oficina, os ciclistas, as bicicletas e as unidades importa-se na máquina:',
  formSays:
    'Ciclistas, bicicletas e unidades vêm a seguir: um cliente de cada vez, ou de tabelas: stanchion import riders riders.csv',
  name: 'Nome da oficina',
  nameHint: 'Os ciclistas veem-no como remetente das mensagens.',
  timeZone: 'Fuso horário',
  timeZoneHint: 'Os dias começam e acabam por ele. Está escolhido o da máquina.',
  browserZone: 'O deste navegador:',
  openDays: 'Dias abertos',
  language: 'Língua',
  email: 'Endereço de e-mail',
  emailHint: 'Para aí vão a mensagem do dia e as respostas às mensagens. Sem ele, nenhuma chega a ninguém.',
  phone: 'Telefone',
  phoneHint: 'Aparece em cada mensagem aos ciclistas. Pode ficar vazio.',
  submit: 'Criar a oficina',
  needName: 'Dê à oficina um nome com 100 caracteres no máximo.',
  needZone: 'Escolha um fuso horário da lista.',
  needDays: 'Assinale pelo menos um dia aberto.',
  needEmail: 'Isto não é um endereço. Escreva-o como nome@example.org, ou deixe vazio.',
  needPhone: 'Um telefone tem 40 caracteres no máximo, numa só linha.',
  exists: 'Já existe uma oficina.',
};
