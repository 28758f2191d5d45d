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
  ledger: () => 'todo o livro',
  bike: (name) => `a bicicleta ${name}`,
  race: (name) => `a prova ${name}`,
  rides: (count) => `${count} voltas; passe-as para outra bicicleta`,
  unrecorded: () => 'uma parte não gravada',
  declared: () => 'horas declaradas',
  interval: () => 'um intervalo',
  membership: () => 'uma unidade dessa frota',
  fitting: () => 'uma montagem',
  hours: () => 'horas escritas à mão',
  part: () => 'uma peça',
  service: () => 'uma revisão',
};

const DAY_WRONG = 'Se esse dia está errado, corrija-o no livro de revisões, na página da unidade.';

const kindsText = (around: Around, kinds: readonly string[]): string =>
  around.words.list(kinds.map(around.serviceKind));

const EASY_AND_HARD = 'Algumas palavras seguidas são fáceis de lembrar e difíceis de adivinhar.';

export const refusals: RefusalTexts = {
  'workshop-name': (_, { name }) =>
    `A oficina continua a chamar-se "${name}": por esse nome se encontra o livro.`,
  'time-zone': (_, { zone }) => `Não há fuso horário "${zone}".`,
  'unit-kind': ({ words }, { tag, before, after }) => [
    `${tag} tem montagens ou revisões como ${words.unitKind[before]}: não pode passar a ${words.unitKind[after]}.`,
    'Anule-as primeiro, ou escreva-a com uma etiqueta própria.',
  ],
  'weight-range': (around, { ground, low, high, value }) => [
    `O peso do terreno ${around.words.ground[ground]} vai de ${around.number(low)} a ${around.number(high)}, e não ${around.number(value)}.`,
    'Nenhuma hora conta menos de 0,5 nem mais de 3; nas bicicletas de uma frota pode contar até 4, onde há frota.',
  ],
  'landing-range': (around, { most, value }) => [
    `Um segundo no ar pode somar de 0 a ${around.number(most)} segundos de terreno, e não ${around.number(value)}.`,
    'Com 0 as aterragens nada somam.',
  ],
  'weights-fall': (around, { smooth, typical, rough }) =>
    `Terreno mais duro não pode pesar menos: ${around.words.ground.smooth} ${around.number(smooth)}, ${around.words.ground.typical} ${around.number(typical)} e ${around.words.ground.rough} ${around.number(rough)} não podem descer.`,
  'not-of-unit': (around, { tag, unitKind, serviceKind, kinds }) => [
    `${tag} é ${around.words.unitKind[unitKind]}: não tem "${around.serviceKind(serviceKind)}".`,
    `Tem: ${kindsText(around, kinds)}.`,
  ],
  'no-clock': (around, { tag, unknown, kinds }) => [
    `${tag} não tem contagem de ${kindsText(around, unknown)}.`,
    `Tem: ${kindsText(around, kinds)}.`,
  ],
  'service-to-come': (around, { on }) =>
    `${around.day(on)} ainda não chegou; uma revisão escreve-se quando está feita.`,
  'service-there': (around, { tag, serviceKind, on, who }) => [
    `${who} já escreveu ${around.serviceKind(serviceKind)} de ${tag} em ${around.day(on)}. Nada foi guardado.`,
    'Se foi feita duas vezes nesse dia, diga-o; para juntar peças à primeira, corrija-a.',
  ],
  'no-finding': (_, { unknown }) => `Aqui não se observa "${unknown.join('", "')}".`,
  'foam-rings': (_, { said }) => `Os anéis de espuma não podem ser "${said}".`,
  'put-back-or-new': (_, { said }) => `Os mesmos ou novos, não "${said}".`,
  'ride-unseen': (_, { names }) => [
    `Por esta lista não se pode andar nela: ninguém olhou para ${names.map(lookName).join(', ')}.`,
    'Olhe para tudo, ou escolha reparar ou substituir. A marca fica até lá.',
  ],
  'ride-harmed': (_, { seen }) => [
    `Com o que se viu não se pode andar nela: ${seenText(seen)}.`,
    'Escolha reparar ou substituir. A marca fica até se olhar outra vez.',
  ],
  'sheet-own-check': () => [
    'Quem escreveu uma ficha não a verifica.',
    'Outra pessoa compara-a com o manual, com a sua própria conta.',
  ],
  'sheet-lines': (_, { unknown, names }) =>
    `Uma ficha para uma unidade assim não tem a linha "${unknown.join('", "')}". Tem: ${names.join(', ')}.`,
  'kind-former': (around, { serviceKind }) => [
    `"${around.serviceKind(serviceKind)}" já não se regista: tirar as bainhas é uma revisão das bainhas.`,
    'Registe a revisão das bainhas e diga que os raspadores são novos.',
  ],
  'kind-stays': (_, { name }) => `"${name}" mantém o nome e o tipo de unidade; junte antes outro.`,
  'kind-is-there': (around, { unitKind, name }) => [
    `Para ${around.words.unitKind[unitKind]} já há "${around.serviceKind(name)}".`,
    'As horas definem-se com um intervalo.',
  ],
  'kind-added': (_, { name }) => `"${name}" já foi acrescentado.`,
  'no-kind': (around, { unitKind, serviceKind }) =>
    `Para ${around.words.unitKind[unitKind]} não há "${around.serviceKind(serviceKind)}".`,
  'interval-hours': () => 'As horas têm de ser mais de 0 e no máximo 10 000.',
  'interval-months': () => 'Os meses são um número inteiro de 1 a 240.',
  'interval-ceiling': () => 'O teto de horas em movimento tem de ser mais de 0 e no máximo 10 000.',
  'interval-there': () => 'Já há um intervalo para estas unidades; corrija esse.',
  'time-to-come': () => 'Essa hora ainda não chegou.',
  minutes: () => 'Os minutos têm de ser mais de 0 e no máximo 1440, um dia inteiro.',
  'before-it-came': (around, { tag, first, on }) => [
    `${tag} veio nova em ${around.day(first)}; não pode ter tido revisão em ${around.day(on)}.`,
    DAY_WRONG,
  ],
  held: (_, { by, name }) => `Isto não se pode anular: depende disso ${HOLDERS[by](name)}.`,
  'nothing-to-tell': (around, { kind }) =>
    `Não há nada a dizer sobre ${around.serviceKind(kind)}: não se aproxima nem é devido.`,
  'void-already': () => 'Esta linha já foi anulada.',
  'same-already': () => 'Já lá está isso mesmo.',
  'name-taken': (_, { name, kind }) => `"${name}" já é o nome de ${KIND[kind]}.`,
  'name-alike': (_, { name, kind, other }) => [
    `"${name}" só se distingue por maiúsculas de ${KIND[kind]}, "${other}".`,
    `Se é essa, chame-lhe "${other}"; se é mesmo outra coisa, dê-lhe um nome próprio.`,
  ],
  'no-name': ({ words }, { name, fault }) => `"${name}" não serve de nome: ${words.nameFault[fault]}.`,
  'no-moment': (_, { text }) => `"${text}" não é um dia nem uma hora.`,
  'fitting-to-come': (around, { from }) => [
    `${around.day(from)} ainda não chegou; uma montagem escreve-se no máximo uma semana antes.`,
    'Veja o ano.',
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
  'hours-to-come': (around, { on }) =>
    `${around.day(on)} ainda não chegou; as horas escrevem-se depois de andar.`,
  'share-range': (around, { most }) => [
    `A parte não gravada tem de ser mais de 0 e no máximo ${around.number(most)} % de tudo o que se andou.`,
    'Onde quase nada se gravou, escreva as horas à mão.',
  ],
  'share-ends': (around, { from, to }) =>
    `O tempo tem de acabar depois de começar: ${around.day(from)} a ${around.day(to)}.`,
  'declared-range': (around, { most }) => `As horas por semana têm de ser de 0 a ${around.number(most)}.`,
  'declared-months': () => 'Indique pelo menos um mês, em números de 1 a 12: 4-10 é de abril a outubro.',
  'share-there': (around, { span, fact }) => [
    `Para esta bicicleta já está escrita uma parte ${spanText(around, span)}${around.fact(fact)}.`,
    'Corrija essa, ou escreva outro tempo.',
  ],
  'on-no-bike': (around, { tag, at }) => `${tag} não estava em nenhuma bicicleta em ${around.day(at)}.`,
  'swap-itself': () => 'Uma unidade não se troca consigo mesma.',
  'other-places': (_, { a, placeOfA, b, placeOfB }) =>
    `${a} é ${PLACE[placeOfA]} e ${b} é ${PLACE[placeOfB]}.`,
  'is-marked': (_, { tag, why }) =>
    `${tag} tem a marca “não andar” (${why}): mande verificar primeiro, ou diga claramente que vai para a bicicleta mesmo assim.`,
  'is-out': (around, { bike, since }) => `${bike} já está fora, desde ${around.day(since)}.`,
  'days-out': (around, { most }) =>
    `Esteve fora ${around.number(most)} dias, e não andou em mais do que esses.`,
  'bike-marked': (_, { bike, tag, why }) =>
    `${bike} não sai: ${tag} tem a marca “não andar” (${why}). Mande verificar primeiro, ou ponha outra.`,
  'no-swap': () => 'Esta troca já não está escrita: foi anulada, ou veio outra coisa depois.',
  'neither-on': () => 'Nenhuma das duas unidades está então numa bicicleta.',
  'is-gone': (around, { tag, how, on }) => [
    `${tag} já não está cá desde ${around.day(on)}: ${around.words.gone[how]}.`,
    'Se voltou, diga-o primeiro.',
  ],
  'not-gone': (_, { tag }) => `${tag} não saiu até esse dia.`,
  'gone-to-come': (around, { on }) => `${around.day(on)} ainda não chegou.`,
  'fitted-since': (around, { tag, bike, from }) => [
    `${tag} foi para a bicicleta ${bike} em ${around.day(from)}, depois desse dia.`,
    'Veja o dia, ou corrija primeiro essa montagem.',
  ],
  'on-only-then': (_, { tag }) => [
    `${tag} só foi montada então, e não no lugar da outra: em vez de trocar, corrija essa montagem.`,
    'Pode fazê-lo o proprietário ou um técnico, no livro da página da unidade.',
  ],
  'job-open': (_, { tag }) => `${tag} já está na oficina.`,
  'no-job': (_, { tag }) => `${tag} não está na oficina. Diga primeiro que chegou.`,
  'no-quiet-week': () => 'Essa semana já não é calma. Escolha outra.',
  'nobody-invited': () => 'Ninguém está assinalado. Assinale quem convidar.',
  'not-invited': (_, { tag }) =>
    `${tag} já não pode ser convidada: tem dia, já foi convidada, ou não está prestes a precisar de nada.`,
  'photos-enough': (_, { most }) => `Já há ${most} fotografias. Retire primeiro uma que diga pouco.`,
  'lead-is-done': () =>
    'Esta marcação está feita; a unidade volta às marcações quando uma revisão voltar a ser devida.',
  'day-passed': (around, { day }) => `${around.day(day)} já passou.`,
  'no-place': (around, { day, free }) => [
    `Não há lugar nesse dia, ${around.weekday(day)}: fechado, ou cheio.`,
    free.length === 0
      ? 'Nas próximas seis semanas não há dia livre.'
      : `Estão livres: ${free.map((one) => around.weekday(one)).join('; ')}.`,
  ],
  'other-lead': () => ['Esta unidade tem entretanto outra marcação.', 'Mude antes essa.'],
  'lead-settled': (_, { state }) => `Esta marcação já está ${LEAD[state]}.`,
  'account-name': (_, { most }) => `O nome de uma conta tem no máximo ${most} caracteres, numa linha.`,
  'account-there': (_, { name }) => [
    `Já há uma conta ${name}.`,
    `Um proprietário dá-lhe outra palavra-passe em Definições, Contas, ou com o comando: stanchion account ${name} --password.`,
  ],
  'only-mechanic': () => 'Só um mecânico fica ligado a uma frota.',
  'needs-fleet': (_, { fleets }) => [
    'Um mecânico trata de uma frota: escolha uma que exista.',
    fleets.length === 0
      ? 'Ainda não há nenhuma; as frotas entram por importação.'
      : `Há: ${fleets.join(', ')}.`,
  ],
  'last-owner': () => [
    'Este é o único proprietário; ninguém mais poderia fazer contas.',
    'Faça primeiro outro proprietário.',
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
  'no-climbs': () => 'Nada a subir nesta volta está em dúvida.',
  'no-such-climb': (_, { count }) => `Diga as subidas pelo número, de 1 a ${count}.`,
  'no-such-recording': () => 'Esta volta não tem essa gravação ao lado de outra.',
  'no-other-ride': () => 'Não há essa outra volta gravada.',
  'too-far-apart': () =>
    'As duas começaram com mais de 15 horas de diferença: nenhum relógio se engana tanto, por isso são duas voltas.',
  'clock-right': () => 'O relógio do aparelho estava certo nesta volta: começou quando ele diz.',
  'minutes-known': () => 'O aparelho diz quanto tempo se andou; os minutos são para percursos sem horas.',
  'needs-minutes': () => 'Este percurso não tem horas: diga durante quantos minutos se andou.',
  count: () => 'Uma contagem precisa de uma peça, e de números de 0 ou mais.',
};
