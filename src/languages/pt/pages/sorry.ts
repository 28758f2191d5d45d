import type { sorry as english } from '../../en/pages/sorry.js';

export const sorry: typeof english = {
  back: 'Voltar ao início',
  403: {
    title: 'Este formulário expirou',
    says: 'A página esteve aberta demasiado tempo, ou o formulário veio de outro sítio. Nada foi alterado. Abra a página de novo e tente outra vez.',
  },
  404: {
    title: 'Esta página não existe',
    says: 'Não há nada neste endereço. Pode ter mudado, ou estar mal escrito.',
  },
  409: { title: 'Isso não é possível', says: 'Nada foi alterado.' },
  408: {
    title: 'Demasiado lento',
    says: 'O envio demorou demasiado. Nada foi alterado. Tente outra vez.',
  },
  413: {
    title: 'É demasiado de uma vez',
    says: 'O que foi enviado é maior do que esta página aceita. Nada foi alterado.',
  },
  400: {
    title: 'Falta alguma coisa',
    says: 'O endereço ou o formulário está incompleto. Nada foi alterado.',
  },
  500: {
    title: 'Algo falhou',
    says: 'A falha é deste programa e não sua. O que foi guardado antes está seguro. Tente de novo. Se voltar a acontecer, mostre o registo a quem cuida da máquina.',
  },
  503: {
    title: 'Fora de serviço por agora',
    says: 'A base de dados ou um serviço necessário não responde. O que foi guardado antes está seguro. Tente de novo dentro de um minuto.',
  },
};
