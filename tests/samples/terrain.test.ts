import { describe, expect, it } from 'vitest';
import { getCourse } from '../../samples/courses.js';
import {
  type Course,
  courseOf,
  GROUND_CLASSES,
  type GroundClass,
  latOf,
  lonOf,
} from '../../samples/terrain.js';

const flat = (ground: GroundClass): Course =>
  courseOf(`flat ${ground}`, [{ ground, lengthM: 60_000, climbM: 0, by: 'riding' }]);

/** γ from third differences, by its own arithmetic. */
const gradientChange = (course: Course, lagM: number): number => {
  const step = course.xM[1]!;
  const lag = Math.round(lagM / step);
  const z = course.eleM;
  let sum = 0;
  let count = 0;
  for (let i = 100; i + 3 * lag < z.length; i += 1) {
    sum += (z[i]! - 3 * z[i + lag]! + 3 * z[i + 2 * lag]! - z[i + 3 * lag]!) ** 2 / 20;
    count += 1;
  }
  return Math.sqrt(sum / count) / lagM;
};

describe('courseOf', () => {
  it.each([
    ['road', 0.0055],
    ['gravel', 0.0085],
    ['trail', 0.0195],
    ['rough', 0.034],
  ] as const)('gives %s its change of gradient at short and long lags alike', (ground, gamma) => {
    for (const lagM of [60, 80, 120]) {
      const found = gradientChange(flat(ground), lagM);
      expect(found / gamma, `lag ${lagM}`).toBeGreaterThan(0.8);
      expect(found / gamma, `lag ${lagM}`).toBeLessThan(1.25);
    }
  });

  it('makes rougher classes rougher', () => {
    const rising = GROUND_CLASSES.map((ground) => gradientChange(flat(ground), 80));
    expect(rising).toEqual([...rising].sort((a, b) => a - b));
  });

  it('draws a lift straight and steadily rising', () => {
    const course = getCourse('park day');
    const on = Array.from(course.leg.keys()).filter((i) => course.leg[i] === 0);
    const [first, last] = [on[0]!, on.at(-1)!];
    const chord = Math.hypot(
      course.eastM[last]! - course.eastM[first]!,
      course.northM[last]! - course.northM[first]!,
    );
    expect(chord / (course.xM[last]! - course.xM[first]!)).toBeGreaterThan(0.999);
    expect((course.eleM[last]! - course.eleM[first]!) / (course.xM[last]! - course.xM[first]!)).toBeCloseTo(
      285 / 1150,
      2,
    );
  });

  it('lies in open ocean and in degrees that agree with its metres', () => {
    // Geodesic steps at 45° N are 111.1318 m for 0.001° of latitude (WGS-84); one degree further south, a little less.
    expect((latOf(1000) - 44) * 1e5).toBeCloseTo(1e8 / 111_113, 0);
    for (const name of ['long road', 'park day', 'van day'] as const) {
      const course = getCourse(name);
      for (const m of [...course.northM]) expect(Math.abs(latOf(m) - 44)).toBeLessThan(0.5);
      for (const m of [...course.eastM]) expect(Math.abs(lonOf(m) + 38)).toBeLessThan(0.5);
    }
  });

  it('gives the same course for the same name', () => {
    const legs = [{ ground: 'trail', lengthM: 2000, climbM: 50, by: 'riding' }] as const;
    expect(courseOf('again', legs)).toEqual(courseOf('again', legs));
    expect(courseOf('again', legs).eleM).not.toEqual(courseOf('other', legs).eleM);
  });
});
