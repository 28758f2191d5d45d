/** The ways that the invented riders ride. */
import { type Course, courseOf, type GroundClass, type Leg } from './terrain.js';

const ridden = (ground: GroundClass, lengthM: number, climbM: number): Leg => ({
  ground,
  lengthM,
  climbM,
  by: 'riding',
});

const repeated = (times: number, legs: readonly Leg[]): Leg[] =>
  Array.from({ length: times }, () => legs).flat();

/** Up by chairlift, straight; down in wide swings that end near the bottom station. */
const PARK_RUN: readonly Leg[] = [
  { ground: 'road', lengthM: 1150, climbM: 285, by: 'lift', bearing: 0.4 },
  { ground: 'rough', lengthM: 2300, climbM: -285, by: 'riding', bearing: 0.4 + Math.PI },
];

/** A course and the terrain weight that its ground comes to at the default weights, to plan with. */
interface Way {
  readonly weight: number;
  readonly legs: readonly Leg[];
}

const WAYS = {
  'two becks': {
    weight: 0.99,
    legs: [
      ridden('gravel', 900, 20),
      ...repeated(2, [ridden('trail', 4100, 195), ridden('trail', 4700, -195)]),
      ridden('gravel', 800, -20),
    ],
  },
  /** Trail with one rough descent. */
  'far ridge': {
    weight: 1.06,
    legs: [
      ridden('trail', 7200, 390),
      ridden('rough', 2200, -190),
      ridden('trail', 6300, 140),
      ridden('trail', 8000, -340),
    ],
  },
  'evening trail': {
    weight: 1.02,
    legs: [ridden('trail', 4300, 130), ridden('trail', 4900, -130), ridden('trail', 3000, 0)],
  },
  'long road': {
    weight: 0.56,
    legs: [ridden('road', 17000, 260), ridden('road', 19000, -260), ridden('road', 8000, 0)],
  },
  'short road': { weight: 0.56, legs: [ridden('road', 11000, 120), ridden('road', 12500, -120)] },
  'gravel round': {
    weight: 0.67,
    legs: [
      ridden('road', 3500, 15),
      ridden('gravel', 14000, 330),
      ridden('gravel', 15500, -330),
      ridden('road', 3000, -15),
    ],
  },
  /** Pedalled up a gravel track, down rough ground. */
  'quarry steps': {
    weight: 1.13,
    legs: repeated(4, [ridden('gravel', 2600, 170), ridden('rough', 2700, -170)]),
  },
  'park day': { weight: 1.85, legs: repeated(13, PARK_RUN) },
  /** Driven up a road, ridden down: somebody must say whether that was a van. */
  'van day': {
    weight: 1.8,
    legs: repeated(3, [
      { ground: 'road', lengthM: 6600, climbM: 300, by: 'van', bearing: 1.1 },
      { ground: 'rough', lengthM: 5200, climbM: -300, by: 'riding', bearing: 1.1 + Math.PI },
    ]),
  },
  /** The recorder went on in the train: somebody must say so. */
  'train home': {
    weight: 1,
    legs: [
      ridden('trail', 6000, 20),
      { ground: 'road', lengthM: 14_000, climbM: 0, by: 'train', bearing: 0.2 },
    ],
  },
  footpath: { weight: 1, legs: [ridden('trail', 5200, 0)] },
} as const satisfies Record<string, Way>;

export type CourseName = keyof typeof WAYS;

const known = new Map<CourseName, Course>();

/** Returns a course by name, made once. */
export const getCourse = (name: CourseName): Course => {
  const course = known.get(name) ?? courseOf(name, WAYS[name].legs);
  known.set(name, course);
  return course;
};

export const expectedWeightOf = (name: CourseName): number => WAYS[name].weight;
