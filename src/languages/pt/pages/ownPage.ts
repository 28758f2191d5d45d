import type { ownPage as english } from '../../en/pages/ownPage.js';

export const ownPage: typeof english = {
  title: 'A página do ciclista',
  lead: 'Com a ligação o ciclista vê as suas bicicletas e horas, envia ficheiros de voltas, responde a perguntas e pede um dia. Quem tiver a ligação vê o mesmo; não mostra nome, endereço nem telefone.',
  phone: 'Telefone',
  noPhone: 'nenhum',
  make: 'Criar uma ligação',
  mail: 'Enviar uma ligação',
  made: (until) => `Esta ligação funciona até ${until}. Só se mostra agora: copie-a ou abra-a.`,
  open: 'Abrir a página do ciclista',
  noAddress:
    'Só se podem enviar ligações depois de definir na máquina um endereço público: STANCHION_PUBLIC_URL.',
  revokeTitle: 'Se uma ligação foi parar a mãos erradas',
  revokeLead:
    'Todas as ligações deste ciclista deixam de funcionar, também as das mensagens. Depois crie outra.',
  revoke: 'Retirar todas as ligações',
  said: {
    mailed: 'A mensagem com a ligação sai na próxima entrega.',
    askedFirst:
      'O endereço ainda não está confirmado. Uma mensagem pergunta primeiro, e a ligação segue quando o ciclista confirmar.',
    revoked: 'Todas as ligações deste ciclista foram retiradas.',
    unreachable:
      'Não sai nenhuma mensagem: o ciclista não tem endereço, ou o endereço não aceita mensagens. Crie uma ligação e entregue-a.',
  },
};
