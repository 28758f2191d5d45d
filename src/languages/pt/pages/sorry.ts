import type { sorry as english } from '../../en/pages/sorry.js';

export const sorry: typeof english = {
  back: 'Para a primeira página',
  403: {
    title: 'Este formulário expirou',
    says: 'Este formulário não veio de uma página deste sítio, ou a página esteve aberta demasiado tempo. Nada foi alterado. Abra a página de novo e tente outra vez.',
  },
  404: {
    title: 'Não há tal página',
    says: 'Não há nada neste endereço. Pode ter mudado, ou estar mal escrito.',
  },
  409: { title: 'Isso não encaixa', says: 'Nada foi alterado.' },
  408: {
    title: 'Demasiado devagar',
    says: 'O que foi enviado demorou demasiado a chegar. Nada foi alterado. Tente outra vez.',
  },
  413: {
    title: 'É demasiado de uma vez',
    says: 'O que foi enviado é maior do que esta página aceita. Nada foi alterado.',
  },
  400: { title: 'Não se percebeu', says: 'O endereço ou o formulário está incompleto. Nada foi alterado.' },
  500: {
    title: 'Algo avariou',
    says: 'É uma falha deste programa e não sua. O que foi guardado antes está seguro. Tente de novo; se continuar, mostre o registo a quem cuida da máquina.',
  },
  503: {
    title: 'Fora de serviço por agora',
    says: 'A base de dados ou um serviço necessário não responde. O que foi guardado antes está seguro. Tente de novo dentro de um minuto.',
  },
};
