import type * as english from '../../en/pages/find.js';

export const find: typeof english.find = {
  field: 'Nome, telefone, etiqueta, série, bicicleta, e-mail',
  button: 'Procurar',
  title: 'Procurar',
  titleOf: (sought) => `Encontrado para “${sought}”`,
  lead: 'Escreva uma parte de um nome, de um telefone, de uma etiqueta, de um número de série, de uma bicicleta ou de um endereço. A tecla / leva ao campo em qualquer página.',
  none: 'Nada encontrado. Uma parte mais curta encontra mais. Acentos e maiúsculas não contam.',
  more: 'Pode haver mais. Uma parte mais longa encontra menos.',
  riders: 'Ciclistas',
  units: 'Unidades',
  bikes: 'Bicicletas',
  gone: 'Já não estão cá',
};
