import type { ownPage as english } from '../../en/pages/ownPage.js';

export const ownPage: typeof english = {
  title: 'A página do ciclista',
  lead: 'Atrás da ligação o ciclista vê as suas bicicletas e horas, envia ficheiros de voltas, responde a perguntas e pede um dia. Quem tiver a ligação vê o mesmo; não mostra nome, endereço nem telefone.',
  phone: 'Telefone',
  noPhone: 'nenhum',
  make: 'Fazer uma ligação',
  mail: 'Enviar uma ligação',
  made: (until) => `Esta ligação funciona até ${until}. Só se mostra agora: copie-a ou abra-a.`,
  open: 'Abrir a página do ciclista',
  noAddress: 'Só se podem enviar ligações com um endereço público: STANCHION_PUBLIC_URL.',
  revokeTitle: 'Se uma ligação foi parar a mãos erradas',
  revokeLead:
    'Todas as ligações deste ciclista deixam de funcionar, também as das mensagens. Depois faça outra.',
  revoke: 'Retirar todas as ligações',
  said: {
    mailed: 'Segue uma mensagem com a ligação na próxima entrega.',
    askedFirst:
      'O endereço ainda não está confirmado: uma mensagem pergunta primeiro, e a ligação segue quando o ciclista disser que sim.',
    revoked: 'Todas as ligações deste ciclista foram retiradas.',
    unreachable:
      'Nenhuma mensagem foi preparada: o ciclista não tem endereço, ou ele não aceita mensagens. Faça uma ligação e entregue-a.',
  },
};
