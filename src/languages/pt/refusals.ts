import type { FindingName } from '../../core/ledger/findings.js';
import type { Holder, RefusedSpan } from '../../core/refusals.js';
import type { Around, RefusalTexts } from '../language.js';
import { looks } from './pages/looks.js';

const PLACE = { fork: 'forqueta', 'rear shock': 'amortecedor' } as const;
const KIND = {
  unit: 'outra unidade',
  bike: 'outra bicicleta',
  rider: 'outro ciclista',
  fleet: 'outra frota',
  race: 'outra prova',
} as const;
const LEAD = { done: 'feita', declined: 'recusada' } as const;

const lookName = (name: string): string => (looks.names[name as FindingName] ?? name).toLowerCase();
const seenText = (seen: readonly (readonly [string, string])[]): string =>
  seen
    .map(([name, word]) => {
      const words: Readonly<Record<string, string>> = looks.words[name as FindingName] ?? {};
      return `${lookName(name)}: ${words[word] ?? word}`;
    })
    .join('; ');

const spanText = (around: Around, { from, to }: RefusedSpan): string =>
  to === null ? `desde ${around.day(from)}` : `de ${around.day(from)} a ${around.day(to)}`;

const HOLDERS: Readonly<Record<Holder, (name: string) => string>> = {
  ledger: () => 'todos os registos',
  bike: (name) => `a bicicleta ${name}`,
  race: (name) => `a prova ${name}`,
  rides: (count) => `${count} voltas; passe-as para outra bicicleta`,
  unrecorded: () => 'uma parte não gravada',
  declared: () => 'horas declaradas',
  interval: () => 'um intervalo',
  membership: () => 'uma unidade dessa frota',
  fitting: () => 'uma montagem',
  hours: () => 'horas introduzidas à mão',
  part: () => 'uma peça',
  service: () => 'uma revisão',
};

const DAY_WRONG = 'Se esse dia está errado, corrija-o no livro de revisões, na página da unidade.';

const kindsText = (around: Around, kinds: readonly string[]): string =>
  around.words.list(kinds.map(around.serviceKind));

const EASY_AND_HARD = 'Algumas palavras seguidas são fáceis de lembrar e difíceis de adivinhar.';

export const refusals: RefusalTexts = {
  'workshop-name': (_, { name }) =>
    `A oficina mantém o nome "${name}": é por ele que um ficheiro exportado encontra os seus registos.`,
  'time-zone': (_, { zone }) => `Não há fuso horário "${zone}".`,
  'unit-kind': ({ words }, { tag, before, after }) => [
    `${tag} tem montagens ou revisões como ${words.unitKind[before]}: não pode passar a ${words.unitKind[after]}.`,
    'Retire-as primeiro, ou registe esta com uma etiqueta própria.',
  ],
  'weight-range': (around, { ground, low, high, value }) => [
    `O peso do terreno ${around.words.ground[ground]} vai de ${around.number(low)} a ${around.number(high)}, e não ${around.number(value)}.`,
    'Nenhuma hora conta menos de 0,5 nem mais de 3; nas bicicletas de uma frota pode contar até 4, onde há frota.',
  ],
  'landing-range': (around, { most, value }) => [
    `Aterragens: um segundo no ar pode somar de 0 a ${around.number(most)} segundos de terreno, e não ${around.number(value)}.`,
    'Com 0, as aterragens não somam nada.',
  ],
  'weights-fall': (around, { smooth, typical, rough }) =>
    `Os pesos do terreno não podem descer quando o terreno é mais duro: ${around.words.ground.smooth} ${around.number(smooth)}, ${around.words.ground.typical} ${around.number(typical)}, ${around.words.ground.rough} ${around.number(rough)}.`,
  'not-of-unit': (around, { tag, unitKind, serviceKind, kinds }) => [
    `Revisão: ${tag} é ${around.words.unitKind[unitKind]} e não tem "${around.serviceKind(serviceKind)}".`,
    `Tem: ${kindsText(around, kinds)}.`,
  ],
  'no-clock': (around, { tag, unknown, kinds }) => [
    `Recomeça: ${tag} não conta horas de ${kindsText(around, unknown)}.`,
    `Tem: ${kindsText(around, kinds)}.`,
  ],
  'service-to-come': (around, { on }) =>
    `${around.day(on)} está no futuro. Registe a revisão quando estiver feita.`,
  'service-there': (around, { tag, serviceKind, on, who }) => [
    `${tag} já tem a sua ${around.serviceKind(serviceKind)} de ${around.day(on)}, registada por ${who}. Nada foi guardado.`,
    'Se foi feita duas vezes nesse dia, diga-o; para juntar peças à primeira, corrija-a.',
  ],
  'no-finding': (_, { unknown }) => `Aqui não se observa "${unknown.join('", "')}".`,
  'foam-rings': (_, { said }) => `Anéis de espuma: não podem ser "${said}".`,
  'put-back-or-new': (_, { said }) => `Os mesmos ou novos, não "${said}".`,
  'ride-unseen': (_, { names }) => [
    `O resultado não pode ser “andar”: ninguém olhou para ${names.map(lookName).join(', ')}.`,
    'Olhe para tudo, ou escolha reparar ou substituir. A marca “não andar” fica até lá.',
  ],
  'ride-harmed': (_, { seen }) => [
    `O resultado não pode ser “andar” com o que se viu: ${seenText(seen)}.`,
    'Escolha reparar ou substituir. A marca “não andar” fica até nova verificação.',
  ],
  'sheet-own-check': () => [
    'Quem escreveu uma ficha não a pode verificar.',
    'Outra pessoa verifica-a com o manual, na sua própria conta.',
  ],
  'sheet-lines': (_, { unknown, names }) =>
    `Uma ficha para uma unidade assim não tem a linha "${unknown.join('", "')}". Tem: ${names.join(', ')}.`,
  'kind-former': (around, { serviceKind }) => [
    `"${around.serviceKind(serviceKind)}" já não se regista: tirar as bainhas é uma revisão das bainhas.`,
    'Registe a revisão das bainhas e diga que os raspadores são novos.',
  ],
  'kind-stays': (_, { name }) =>
    `O nome e o tipo de unidade de "${name}" não se podem mudar. Adicione antes outra revisão.`,
  'kind-is-there': (around, { unitKind, name }) => [
    `Para ${around.words.unitKind[unitKind]} já há "${around.serviceKind(name)}".`,
    'As horas definem-se em Intervalos.',
  ],
  'kind-added': (_, { name }) => `"${name}" já existe.`,
  'no-kind': (around, { unitKind, serviceKind }) =>
    `Para ${around.words.unitKind[unitKind]} não há "${around.serviceKind(serviceKind)}".`,
  'interval-hours': () => 'As horas de terreno têm de ser mais de 0 e no máximo 10 000.',
  'interval-months': () => 'Os meses são um número inteiro de 1 a 240.',
  'interval-ceiling': () => 'O teto de horas em movimento tem de ser mais de 0 e no máximo 10 000.',
  'interval-there': () => 'Estas unidades já têm um intervalo para esta revisão. Corrija esse.',
  'time-to-come': () => 'Essa hora está no futuro.',
  minutes: () => 'Os minutos têm de ser mais de 0 e no máximo 1440, um dia inteiro.',
  'before-it-came': (around, { tag, first, on }) => [
    `${tag} veio nova em ${around.day(first)}; não pode ter tido revisão em ${around.day(on)}.`,
    DAY_WRONG,
  ],
  held: (_, { by, name }) =>
    `Isto não se pode retirar enquanto houver algo que depende disso: ${HOLDERS[by](name)}.`,
  'nothing-to-tell': (around, { kind }) =>
    `Não há nada a dizer ao ciclista: ${around.serviceKind(kind)} não está a fazer nem a aproximar-se.`,
  'void-already': () => 'Esta linha já foi retirada.',
  'same-already': () => 'Já é isso que lá diz.',
  'name-taken': (_, { name, kind }) => `"${name}" já é o nome de ${KIND[kind]}.`,
  'name-alike': (_, { name, kind, other }) => [
    `"${name}" só se distingue por maiúsculas de ${KIND[kind]}, "${other}".`,
    `Se é essa, chame-lhe "${other}"; se é mesmo outra coisa, dê-lhe um nome próprio.`,
  ],
  'no-name': ({ words }, { name, fault }) => `"${name}" não serve de nome: ${words.nameFault[fault]}.`,
  'no-moment': (_, { text }) => `"${text}" não é um dia nem uma hora.`,
  'fitting-to-come': (around, { from }) => [
    `${around.day(from)} está demasiado longe: uma montagem regista-se no máximo uma semana antes.`,
    'Confirme o ano.',
  ],
  'fitting-ends': () => 'Uma montagem tem de acabar depois de começar.',
  'is-elsewhere': (around, { tag, bike, span }) => [
    `${tag} está na bicicleta ${bike} ${spanText(around, span)}.`,
    `Retire-a primeiro, ou troque as duas unidades. ${DAY_WRONG}`,
  ],
  'place-taken': (around, { bike, tag, place, span }) => [
    `A bicicleta ${bike} tem ${tag} como ${PLACE[place]} ${spanText(around, span)}.`,
    `Retire essa primeiro, ou troque as duas unidades. ${DAY_WRONG}`,
  ],
  'hours-to-come': (around, { on }) => `${around.day(on)} está no futuro. Registe as horas depois de andar.`,
  'share-range': (around, { most }) => [
    `A parte não gravada tem de ser mais de 0 e no máximo ${around.number(most)} % de tudo o que se andou.`,
    'Se quase nada foi gravado, introduza as horas à mão.',
  ],
  'share-ends': (around, { from, to }) =>
    `A parte não gravada tem de acabar depois de começar: ${around.day(from)} a ${around.day(to)}.`,
  'declared-range': (around, { most }) => `As horas por semana têm de ser de 0 a ${around.number(most)}.`,
  'declared-months': () => 'Indique pelo menos um mês, em números de 1 a 12: 4-10 é de abril a outubro.',
  'share-there': (around, { span, fact }) => [
    `Esta bicicleta já tem uma parte não gravada ${spanText(around, span)}${around.fact(fact)}.`,
    'Corrija essa, ou escolha outros dias.',
  ],
  'on-no-bike': (around, { tag, at }) => `${tag} não estava em nenhuma bicicleta em ${around.day(at)}.`,
  'swap-itself': () => 'Uma unidade não se troca consigo mesma.',
  'other-places': (_, { a, placeOfA, b, placeOfB }) =>
    `${a} é ${PLACE[placeOfA]} e ${b} é ${PLACE[placeOfB]}.`,
  'is-marked': (_, { tag, why }) =>
    `${tag} tem a marca “não andar” (${why}). Mande verificar primeiro, ou confirme que vai para a bicicleta mesmo assim.`,
  'is-out': (around, { bike, since }) => `${bike} está fora desde ${around.day(since)}.`,
  'days-out': (around, { most }) =>
    `Dias andados: a bicicleta esteve fora ${around.number(most)} dias, por isso não pode ter andado em mais.`,
  'bike-marked': (_, { bike, tag, why }) =>
    `${bike} não pode sair: ${tag} tem a marca “não andar” (${why}). Mande verificar primeiro, ou monte outra.`,
  'no-swap': () => 'Esta troca já não se pode anular: já foi anulada, ou algo mudou depois dela.',
  'neither-on': () => 'Nenhuma das duas unidades está numa bicicleta nessa altura.',
  'is-gone': (around, { tag, how, on }) => [
    `${tag} já não está cá desde ${around.day(on)}: ${around.words.gone[how]}.`,
    'Se voltou, registe isso primeiro.',
  ],
  'not-gone': (_, { tag }) => `${tag} não saiu até esse dia.`,
  'gone-to-come': (around, { on }) => `O último dia cá, ${around.day(on)}, está no futuro.`,
  'fitted-since': (around, { tag, bike, from }) => [
    `${tag} foi para a bicicleta ${bike} em ${around.day(from)}, depois desse dia.`,
    'Confirme o dia, ou corrija primeiro essa montagem.',
  ],
  'on-only-then': (_, { tag }) => [
    `${tag} foi montada nessa mesma altura, e não no lugar da outra. Em vez de trocar, corrija essa montagem.`,
    'Um proprietário ou um técnico pode fazê-lo no livro de revisões, na página da unidade.',
  ],
  'job-open': (_, { tag }) => `${tag} já está na oficina.`,
  'no-job': (_, { tag }) => `${tag} não está na oficina. Registe primeiro que chegou.`,
  'no-quiet-week': () => 'Essa semana já não é calma. Escolha outra.',
  'invitation-went': () =>
    'Este convite já não se pode retirar: a mensagem já saiu, ou o ciclista já respondeu.',
  'nobody-invited': () => 'Ninguém está assinalado. Assinale quem convidar.',
  'not-invited': (_, { tag }) =>
    `${tag} já não pode ser convidada: tem dia, já foi convidada, ou não está prestes a precisar de nada.`,
  'photos-enough': (_, { most }) => `Já há ${most} fotografias. Retire primeiro uma de que não precise.`,
  'lead-is-done': () =>
    'Esta marcação está feita. A unidade volta à lista quando houver outra revisão a fazer.',
  'day-passed': (around, { day }) => `${around.day(day)} já passou.`,
  'no-place': (around, { day, free }) => [
    `Não há lugar nesse dia, ${around.weekday(day)}: está fechado ou cheio.`,
    free.length === 0
      ? 'Nas próximas seis semanas não há dia livre.'
      : `Dias livres: ${free.map((one) => around.weekday(one)).join('; ')}.`,
  ],
  'other-lead': () => ['Esta unidade tem agora outra marcação.', 'Mude antes essa.'],
  'lead-settled': (_, { state }) => `Esta marcação já está ${LEAD[state]}.`,
  'account-name': (_, { most }) => `O nome de uma conta tem no máximo ${most} caracteres, numa linha.`,
  'account-there': (_, { name }) => [
    `Já há uma conta ${name}.`,
    `Um proprietário pode definir outra palavra-passe em Definições, Contas, ou com o comando: stanchion account ${name} --password.`,
  ],
  'only-mechanic': () => 'Só um mecânico tem frota. Deixe a frota vazia.',
  'needs-fleet': (_, { fleets }) => [
    'Um mecânico trata de uma frota: escolha uma que exista.',
    fleets.length === 0 ? 'Ainda não há nenhuma. Adicione primeiro a frota.' : `Há: ${fleets.join(', ')}.`,
  ],
  'last-owner': () => [
    'Este é o único proprietário: sem ele ninguém pode criar contas.',
    'Crie primeiro outro proprietário.',
  ],
  'password-length': (_, { least, most, length }) => [
    `Uma palavra-passe tem de ${least} a ${most} caracteres; esta tem ${length}.`,
    EASY_AND_HARD,
  ],
  'password-common': () => [
    'Esta palavra-passe é das mais usadas, que se adivinham primeiro.',
    EASY_AND_HARD,
  ],
  'password-names': () => [
    'Esta palavra-passe é só um nome fácil de adivinhar: o da conta, o da oficina ou Stanchion.',
    EASY_AND_HARD,
  ],
  'no-answer': () => 'Falta a resposta.',
  'counts-already': () => 'Esta volta já conta.',
  'say-when-long': () => 'Diga quando se fez este percurso, e durante quantos minutos.',
  'say-when': () => 'Diga quando começou esta volta.',
  'say-who': () => 'Diga de quem é esta volta, ou em que bicicleta foi.',
  'say-bike': () => 'Diga em que bicicleta foi.',
  'no-climbs': () => 'Nenhuma subida desta volta está em dúvida.',
  'no-such-climb': (_, { count }) => `Diga as subidas pelo número, de 1 a ${count}.`,
  'no-such-recording': () => 'Esta volta não tem uma segunda gravação com esse nome.',
  'no-other-ride': () => 'Não há outra volta gravada com esse nome.',
  'too-far-apart': () =>
    'As duas começaram com mais de 15 horas de diferença: nenhum relógio se engana tanto, por isso são duas voltas.',
  'clock-right': () => 'O relógio do gravador estava certo nesta volta: começou quando ele diz.',
  'minutes-known': () => 'O gravador diz quanto tempo se andou; os minutos são para percursos sem horas.',
  'needs-minutes': () => 'Este percurso não tem horas: diga durante quantos minutos se andou.',
  count: () => 'Uma contagem da prateleira precisa de uma peça, e de quantidades de 0 ou mais.',
};
