/** What the planning pages say: weeks, parts, races, the day, findings. */
export const plan = {
  print: 'For paper, print this page.',
  range: (low: string, high: string) => (low === high ? low : `${low} to ${high}`),

  load: {
    title: 'Bench weeks and parts',
    lead: 'What the coming weeks will likely bring to the bench, and what the shelf must hold for it.',
    crowded: (weeks: string) => `Crowded: ${weeks}.`,
    noneCrowded: 'No week is crowded.',
    columns: {
      week: 'Week',
      due: 'Fall due',
      services: 'Expected on the bench',
      minutes: 'Bench minutes',
      usable: 'To use',
      full: 'Chance of too much',
    },
    spread: '80\u00a0% range',
    booked: (count: number) => (count === 1 ? '1 has a day' : `${count} have a day`),
    minutes: (count: string) => `${count} min`,
    openDays: (count: number) => (count === 0 ? 'closed' : count === 1 ? '1 open day' : `${count} open days`),
    places: (count: number) => (count === 1 ? '1 place' : `${count} places`),
    isCrowded: 'crowded',
    how: (share: string) =>
      `We assume that ${share} of the riders who are reminded come, in the week in which the service falls due. What is due already is in the first week. Bikes without a rider count in full.`,
    howTitle: 'How this is worked out',
    leftOut: (parts: string) => `Not in these numbers: ${parts}.`,
    out: {
      onTheBench: (count: number) => `${count} on the bench of which nothing is due`,
      stopRiding: (count: number) => `${count} marked “stop riding”`,
      historyUnknown: (count: number) => `${count} of unknown history`,
      boxed: (count: number) => `${count} on no bike`,
    },
    plotTitle: 'Bench minutes by week',
    axis: 'minutes on the bench',
    across: 'week from',
    plotSays: (weeks: string) => `Expected minutes with their range, against the minutes to use. ${weeks}`,
    plotWeek: (week: string, mean: string, low: string, high: string, usable: string) =>
      `${week}: ${mean}, from ${low} to ${high}, of ${usable}.`,
    legend: {
      range: '80\u00a0% range',
      mean: 'expected',
      usable: 'minutes to use',
      usableAbove: (weeks: number) =>
        `minutes to use: more than the picture shows, in ${weeks} ${weeks === 1 ? 'week' : 'weeks'}`,
    },

    partsTitle: 'Parts and oil',
    partsLead: (weeks: number) =>
      `For these ${weeks} weeks. Parts and oil are as you typed them. Where you typed nothing, each service takes one set.`,
    partColumns: {
      part: 'Part',
      left: 'On the shelf',
      expected: 'Expected need',
      cover: 'Covers 90\u00a0%',
      order: 'Order by',
    },
    notCounted: 'not counted',
    shortFrom: (day: string) => `short from ${day}`,
    late: 'late: order today',
    enough: 'enough',
    orderCount: (amount: string) => `${amount} to order`,
    millilitres: (amount: string) => `${amount} ml`,
    byWeek: (amounts: string) => `by week: ${amounts}`,
    noParts: 'No service is expected in these weeks. Services are expected from units that are ridden.',
    setOf: (kind: string, service: string) => `set (${kind}, ${service})`,

    countTitle: 'Count the shelf',
    quietTitle: 'Quiet weeks',
    quietLead: 'These weeks have room. Invite riders whose service is likely due before most come.',
    invited: 'Who was invited, and what came of it',
    quietFree: (minutes: string) => `${minutes} free`,
    invite: (week: string) => `Invite into the week ${week}`,
  },

  quiet: {
    title: 'Invite into a quiet week',
    lead: (week: string, month: string) =>
      `Week ${week}. Here is what is likely due by the end of ${month}, when most come; the worst first.`,
    none: 'No week is quiet: none before the busy months has room.',
    busy: 'These are the months in which most come. Quiet weeks are looked for in winter.',
    noneDue: 'Nothing else is likely due by then: it has a day, or was invited this winter.',
    room: (count: number) =>
      count === 0
        ? 'The week has no room for the first of them.'
        : count === 1
          ? 'The week has room for 1 of them: it is ticked.'
          : `The week has room for ${count} of them: they are ticked.`,
    likely: (day: string) => `likely ${day}`,
    someDay: 'likely due by then',
    submit: 'Invite those ticked',
    tells:
      'Each rider gets one mail, at the hour of reminders. It says that the bench has room and how to ask for a day, never that something is late. A unit is invited once a winter.',
    resting: 'Reminders have not begun. Invitations go out once they have.',
    done: 'They are invited. See below what comes of it.',
    takeBack: 'Take back',
    takeBackOf: (unit: string) => `Take back the invitation: ${unit}`,
    takenBack: 'The invitation is taken back. No mail goes out for it.',
    takenBackWhy: 'invitation taken back',
    callsTitle: 'Call these',
    callsLead: 'Mail does not reach these riders.',
    invitedTitle: 'Invited',
    counted: (all: string, parts: string) => `${all} invited: ${parts}.`,
    came: {
      done: 'service done',
      booked: 'has a day',
      'not-now': 'not now',
      'to-call': 'no mail reached them: call',
      told: 'mailed, no answer yet',
      waits: 'mail waits',
    },
    counts: {
      done: (count: string) => `${count} done`,
      booked: (count: string) => `${count} with a day`,
      'not-now': (count: string) => `${count} not now`,
      'to-call': (count: string) => `${count} to call`,
      told: (count: string) => `${count} without an answer`,
      waits: (count: string) => `${count} whose mail waits`,
    },
    columns: {
      unit: 'Unit',
      service: 'Service',
      rider: 'Rider',
      week: 'Week',
      came: 'What came of it',
      likely: 'Likely due',
    },
  },

  races: {
    title: 'Races',
    lead: 'What must be serviced before which race, so that no interval ends on the hill.',
    none: 'There is no race to come. Enter one, and what must be serviced before it is listed.',
    gone: 'There is no such race to come.',
    sheet: 'Sheet for printing',
    hours: (practice: string, race: string) =>
      `${practice} of practice and ${race} of racing a bike, as expected`,
    tally: (jobs: number) =>
      jobs === 0
        ? 'Nothing must be serviced before it.'
        : jobs === 1
          ? '1 service before it'
          : `${jobs} services before it`,
    firstBy: (day: string) => `the first by ${day}`,
    columns: { race: 'Race', when: 'When', bikes: 'Bikes', before: 'Before it' },
    jobColumns: { by: 'By', unit: 'Unit', bike: 'Bike', service: 'Service', why: 'Why', done: 'Done' },
    noDay: 'no open day before',
    late: 'late: at once',
    shakedown: 'then a shakedown ride',
    why: {
      'terrain-hours': (service: string, hours: string, limit: string) =>
        `${service}: ${hours} terrain hours after the race, of ${limit}`,
      'moving-hours': (service: string, hours: string, limit: string) =>
        `${service}: ${hours} moving hours after the race, of ${limit}`,
      months: (service: string, day: string, isPast: boolean) =>
        `${service}: its months ${isPast ? 'were up' : 'are up'} on ${day}`,
      none: (service: string) => `${service}: history unknown, have it opened`,
    },
    stopped: (unit: string, bike: string) =>
      `Stop riding ${unit} on ${bike}: have it checked before anything else.`,
    takes: (minutes: string) => `Together ${minutes} on the bench.`,
    allFit: 'The bench has time for all of it.',
    notAllFit: (count: number) =>
      count === 1
        ? 'For 1 of them the bench has no time by then.'
        : `For ${count} of them the bench has no time by then.`,
    moreBy: {
      'short-first': (count: number) => `With the shortest jobs first, ${count} more are done.`,
      'due-first': (count: number) => `In order of their days, ${count} more are done.`,
    },
    dueFirst: 'In order of their days',
    onBench: (day: string, minutes: string) => `on the bench ${day}, ${minutes}`,
    doesNotFit: (minutes: string) => `no time on the bench by then (${minutes})`,
    useSpare: (tag: string) => `${tag} is a spare that lasts through this race: swap it on`,
    noSpare: 'no spare lasts through this race: another workshop, or another bike',
    inPlace: (because: string) => `in place of the smaller job: ${because}`,
    bikesTitle: 'Bikes and their ground',
    ground: (unit: string, weight: string, rides: string) => `${unit}: an hour weighs ${weight}, by ${rides}`,
    noRides: (unit: string) => `${unit}: no rides yet, a typical trail is assumed`,
    partsTitle: 'For the truck',
    partsOfFit: 'Jobs for which the bench has no time are not in it.',
    partsLead: 'To take: what you typed for each service. Where you typed nothing, each takes one set.',
    partColumns: {
      part: 'Part',
      before: 'For the services before',
      carry: 'One small service a unit',
      spares: 'Spare list',
      packed: 'Packed',
    },
    how: (days: number) =>
      `Services must be done ${days} open days before the race. Only the hours of practice and racing are added to those ridden. Other rides until then are not counted.`,
    back: 'All races',
  },

  day: {
    title: (day: string) => `Jobs for the day: ${day}`,
    lead: 'In this order.',
    on: 'Day',
    show: 'Show this day',
    closed: 'The workshop is closed on this day.',
    usable: (minutes: string) => `${minutes} of bench time to use.`,
    columns: { unit: 'Unit', service: 'Service', why: 'Why', time: 'Bench time', takes: 'Takes' },
    reason: {
      booked: 'booked',
      'asked-for': 'asked for, not booked yet',
      'on-the-bench': 'on the bench',
      race: 'race',
      'over-interval': 'over interval',
      due: 'due',
    },
    forRace: (race: string, day: string) => `${race}, by ${day}`,
    soFar: (minutes: string) => `${minutes} so far`,
    another: 'another day: the time is used up',
    nothing: 'There is no job for this day. Jobs come from bookings and from what is due.',
    partsTitle: 'From the shelf',
    cardsTitle: 'Bench cards',
    cardsLead: 'One for each job that fits, each on a sheet of A4.',
  },

  findings: {
    title: 'What findings show',
    lead: 'Foam rings that had gone dark by the time of their service, against the hours they had run.',
    seen: (services: string, dark: string) =>
      `Seen so far: foam rings at ${services}, dark at ${dark} of them.`,
    unusable: (count: number) =>
      count === 1 ? '1 service could not be used:' : `${count} services could not be used:`,
    why: {
      'never-new': (count: number) => `${count}: nobody has said yet when the rings were new`,
      'not-said': (count: number) => `${count}: a service before it did not say “put back” or “new”`,
      'not-ridden': (count: number) => `${count}: no riding was recorded since the rings were new`,
    },
    silent: (services: number, dark: number) =>
      `Too early to say. It takes at least ${services} services, ${dark} of them with dark rings. Log how the rings look at each service.`,
    suggested: (hours: string) => `Up to ${hours} (terrain hours), nine of ten foam rings are not yet dark.`,
    range: (low: string, high: string) => `80\u00a0% range: ${low} to ${high}.`,
    notReached: 'The rings seen so far are no darker after more hours, so they suggest no interval.',
    suggestedHow:
      'With it as the interval, a lower-leg service falls due then. It is a suggestion: the maker’s manual comes first.',
    tryIt: (hours: string) => `See what an interval of ${hours} would change`,
    missing: (services: number, dark: number) => `Still missing: ${services} services, ${dark} dark rings.`,
    allDark: (hours: string) =>
      `All foam rings that were looked at were dark, the earliest at ${hours} of terrain hours.`,
    allDarkHow:
      'They go dark before that, so no interval can be suggested yet. Open some units earlier, within what the maker’s manual says, and log how their rings look.',
    betterTitle: 'Terrain hours or moving hours?',
    better: {
      'terrain-hours': 'Terrain hours tell better when rings go dark.',
      'moving-hours':
        'Moving hours tell better when rings go dark. The terrain weights may not suit the ground here.',
      undecided: 'Too early to say which of them tells better when rings go dark.',
    },
    pairs: (terrain: string, moving: string) =>
      `Of all pairs of a dark and a light ring, the dark one had more terrain hours in ${terrain}, more moving hours in ${moving}. Half would be chance.`,
    lead80: (low: string, high: string) =>
      `The difference between the two is from ${low} to ${high} points, in an 80\u00a0% range.`,
    howTitle: 'How this is worked out',
    tableTitle: 'What was seen, by hours',
    columns: { hours: 'From terrain hours', share: 'Share gone dark', services: 'Services' },
    how: 'The share is estimated without assuming a curve: it may only rise with the hours. The hours at which nine of ten are not yet dark come from two curves, fitted to units resampled 400 times. In 1 000 simulations each, the range held the true value about 80\u00a0% of the time, with 40, 80 and 160 services. Rings are only seen at services, so not all hours are seen alike.',
    plotTitle: 'Share gone dark by terrain hours',
    plotSays: (steps: string, range: string | null) =>
      `A line of steps that rises: ${steps}.${range === null ? '' : ` ${range}`}`,
    plotRange: (low: string, high: string) => `The suggested interval: from ${low} to ${high}.`,
    plotStep: (hours: string, share: string) => `${share} from ${hours}`,
    axis: 'terrain hours',
    up: 'share gone dark',
    legend: {
      share: 'share gone dark',
      tenth: 'one in ten',
      range: 'suggested interval, 80\u00a0% range',
    },
  },
};
