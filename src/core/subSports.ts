import type { BikeType } from './tokens.js';

/** The bikes that a sub-sport is ridden on, likeliest first. Source: names of the FIT profile; common practice. */
const BIKES: Readonly<Record<string, readonly BikeType[]>> = {
  road: ['road'],
  track_cycling: ['road'],
  gravel_cycling: ['gravel'],
  cyclocross: ['gravel'],
  mixed_surface: ['gravel'],
  mountain: ['trail', 'gravity'],
  e_bike_mountain: ['trail', 'gravity'],
  enduro: ['gravity', 'trail'],
  e_bike_enduro: ['gravity', 'trail'],
  downhill: ['gravity', 'trail'],
  bmx: ['other'],
};

/** Returns the types of bike that it may have been, likeliest first. */
export const bikeTypesOf = (subSport: string | null): readonly BikeType[] =>
  subSport !== null && Object.hasOwn(BIKES, subSport) ? BIKES[subSport]! : [];

/** Returns the type whose ground it names; null where it names none and the bike has to tell. */
export const groundTypeOf = (subSport: string | null): BikeType | null =>
  bikeTypesOf(subSport).find((type) => type !== 'other') ?? null;
