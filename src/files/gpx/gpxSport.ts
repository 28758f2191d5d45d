import { isFitSport } from './fitSports.js';

type SportNames = readonly [sport: string, subSport: string | null];

/** What people and exporters write in a track's type, as FIT profile names. Common practice, no source. */
const WORDS = new Map<string, SportNames>(
  Object.entries({
    bike: ['cycling', null],
    biking: ['cycling', null],
    bicycle: ['cycling', null],
    bicycling: ['cycling', null],
    bike_ride: ['cycling', null],
    ride: ['cycling', null],
    cycle: ['cycling', null],
    velomobile: ['cycling', 'road'],
    handcycle: ['cycling', 'hand_cycling'],
    road: ['cycling', 'road'],
    road_bike: ['cycling', 'road'],
    road_biking: ['cycling', 'road'],
    road_cycling: ['cycling', 'road'],
    mtb: ['cycling', 'mountain'],
    mountain_bike: ['cycling', 'mountain'],
    mountain_bike_ride: ['cycling', 'mountain'],
    mountain_biking: ['cycling', 'mountain'],
    downhill: ['cycling', 'downhill'],
    downhill_biking: ['cycling', 'downhill'],
    enduro: ['cycling', 'enduro'],
    gravel: ['cycling', 'gravel_cycling'],
    gravel_ride: ['cycling', 'gravel_cycling'],
    gravel_cycling: ['cycling', 'gravel_cycling'],
    gravel_biking: ['cycling', 'gravel_cycling'],
    cyclocross: ['cycling', 'cyclocross'],
    bmx: ['cycling', 'bmx'],
    commute: ['cycling', 'commuting'],
    commuting: ['cycling', 'commuting'],
    indoor_cycling: ['cycling', 'indoor_cycling'],
    virtual_ride: ['cycling', 'virtual_activity'],
    ebike: ['e_biking', null],
    e_bike: ['e_biking', null],
    ebike_ride: ['e_biking', null],
    e_bike_ride: ['e_biking', null],
    emtb: ['e_biking', 'e_bike_mountain'],
    e_mtb: ['e_biking', 'e_bike_mountain'],
    virtual_cycling: ['cycling', 'virtual_activity'],
    virtual_run: ['running', 'virtual_activity'],
    e_biking: ['e_biking', null],
    e_mountain_biking: ['e_biking', 'e_bike_mountain'],
    e_mountain_bike_ride: ['e_biking', 'e_bike_mountain'],
    run: ['running', null],
    jogging: ['running', null],
    trail_run: ['running', 'trail'],
    trail_running: ['running', 'trail'],
    walk: ['walking', null],
    hike: ['hiking', null],
    swim: ['swimming', null],
    row: ['rowing', null],
    ski: ['alpine_skiing', null],
    skiing: ['alpine_skiing', null],
    car: ['driving', null],
    driving: ['driving', null],
  } satisfies Record<string, SportNames>),
);
/**
 * What numbers mean to the programs that write them, by a hash of the first letters of the file's `creator`: no product's
 * name stands here. Source: files of theirs, and their users' word for them; from memory.
 */
const NUMBERS_OF = new Map<number, Readonly<Record<string, SportNames>>>([
  [0x3f79_6187, { 1: ['cycling', null], 9: ['running', null], 17: ['cycling', 'virtual_activity'] }],
]);

/** FNV-1a, 32 bits. */
function hashOf(text: string): number {
  let hash = 0x811c_9dc5;
  for (let i = 0; i < text.length; i++) hash = Math.imul(hash ^ text.charCodeAt(i), 0x0100_0193) >>> 0;
  return hash;
}

/** Returns FIT profile names for a track's type; nulls for free text, and for a number that the creator gives no meaning. */
export function sportOfType(type: string, creator = ''): { sport: string | null; subSport: string | null } {
  const maker = /^[a-z]+/.exec(creator.trim().toLowerCase())?.[0] ?? '';
  const numbered = NUMBERS_OF.get(hashOf(maker))?.[type.trim()];
  if (numbered !== undefined) return { sport: numbered[0], subSport: numbered[1] };
  const word = type
    .trim()
    // Words that are run together, as in `EBikeRide`.
    .replace(/([a-z])([A-Z])|([A-Z])(?=[A-Z][a-z])/g, '$1$3_$2')
    .toLowerCase()
    .replace(/[\s_-]+/g, '_');
  const [sport, subSport] = WORDS.get(word) ?? [isFitSport(word) ? word : null, null];
  return { sport, subSport };
}
