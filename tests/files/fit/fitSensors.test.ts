import { describe, expect, it } from 'vitest';
import { type FitDevice, sensorsOf } from '../../../src/files/fit/fitSensors.js';

const device = (given: Partial<FitDevice>): FitDevice => ({
  deviceIndex: 3,
  sourceType: 'antplus',
  deviceType: 'bike_speed',
  antNumber: undefined,
  serial: undefined,
  ...given,
});

describe('sensorsOf', () => {
  it('says whose a sensor is', () => {
    const sensors = sensorsOf([
      device({ deviceType: 'bike_speed', antNumber: 11 }),
      device({ deviceType: 'bike_cadence', antNumber: 12 }),
      device({ deviceType: 'bike_speed_cadence', antNumber: 13 }),
      device({ deviceType: 'bike_power', antNumber: 14 }),
      device({ deviceType: 'heart_rate', antNumber: 15 }),
      device({ deviceType: 'bike_radar', antNumber: 16 }),
    ]);
    expect(sensors).toEqual([
      { id: 'cadence:12', boundTo: 'bike' },
      { id: 'heart-rate:15', boundTo: 'rider' },
      { id: 'other:16', boundTo: 'unknown' },
      { id: 'power:14', boundTo: 'bike' },
      { id: 'speed-cadence:13', boundTo: 'bike' },
      { id: 'speed:11', boundTo: 'bike' },
    ]);
  });

  it('knows a sensor by its ANT+ number where no source type is given', () => {
    expect(sensorsOf([device({ sourceType: undefined, deviceType: 123, serial: 77 })])).toEqual([
      { id: 'speed:77', boundTo: 'bike' },
    ]);
  });

  it('names a sensor once, by its radio number even where a serial came later', () => {
    const repeated = [
      device({ antNumber: 11 }),
      device({ antNumber: 11, serial: 900 }),
      device({ serial: 900 }),
    ];
    expect(sensorsOf(repeated)).toEqual([{ id: 'speed:11', boundTo: 'bike' }]);
  });

  it('leaves out the recorder, what is built into it, and what has no number', () => {
    const devices = [
      device({ deviceIndex: 'creator', serial: 1 }),
      device({ deviceIndex: 0, serial: 2 }),
      device({ deviceIndex: undefined, serial: 3 }),
      device({ sourceType: 'local', serial: 4 }),
      device({ serial: undefined }),
      device({ antNumber: 0 }),
    ];
    expect(sensorsOf(devices)).toEqual([]);
  });
});
