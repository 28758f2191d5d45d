import type { Sensor } from '../../core/ground/samples/recording.js';

/** What a device_info message says, as the FIT profile names it. */
export interface FitDevice {
  readonly deviceIndex: unknown;
  readonly sourceType: unknown;
  readonly deviceType: unknown;
  readonly antNumber: unknown;
  readonly serial: unknown;
}

type Kind = { readonly kind: string; readonly boundTo: Sensor['boundTo'] };
const ON_BIKE = (kind: string): Kind => ({ kind, boundTo: 'bike' });
const ON_RIDER = (kind: string): Kind => ({ kind, boundTo: 'rider' });

/** By the profile's name, or by ANT+ number where no source type told the decoder which names apply. */
const KINDS: Readonly<Record<string, Kind>> = {
  bike_power: ON_BIKE('power'),
  bike_speed: ON_BIKE('speed'),
  bike_cadence: ON_BIKE('cadence'),
  bike_speed_cadence: ON_BIKE('speed-cadence'),
  shifting: ON_BIKE('shifting'),
  light_electric_vehicle: ON_BIKE('motor'),
  heart_rate: ON_RIDER('heart-rate'),
  stride_speed_distance: ON_RIDER('stride'),
  muscle_oxygen: ON_RIDER('muscle-oxygen'),
};
/** Source: FIT SDK, profile, type antplus_device_type. */
const ANT_NUMBERS: Readonly<Record<number, string>> = {
  11: 'bike_power',
  20: 'light_electric_vehicle',
  31: 'muscle_oxygen',
  34: 'shifting',
  120: 'heart_rate',
  121: 'bike_speed_cadence',
  122: 'bike_cadence',
  123: 'bike_speed',
  124: 'stride_speed_distance',
};

/** Returns the sensors that a recorder named, each once; the recorder itself and what is built into it are left out. */
export function sensorsOf(devices: readonly FitDevice[]): Sensor[] {
  const found = new Map<string, Sensor>();
  const serialOnly = serialsWithoutRadio(devices);
  for (const device of devices) {
    const number = numberOf(device, serialOnly);
    if (number === undefined || isRecorder(device)) continue;
    const name = typeof device.deviceType === 'number' ? ANT_NUMBERS[device.deviceType] : device.deviceType;
    const { kind, boundTo } = KINDS[String(name)] ?? { kind: 'other', boundTo: 'unknown' as const };
    found.set(`${kind}:${number}`, { id: `${kind}:${number}`, boundTo });
  }
  return [...found.values()].sort((a, b) => (a.id < b.id ? -1 : 1));
}

const isRecorder = (device: FitDevice): boolean =>
  device.deviceIndex === undefined ||
  device.deviceIndex === 'creator' ||
  device.deviceIndex === 0 ||
  device.sourceType === 'local';

const isNumber = (value: unknown): value is number => typeof value === 'number' && value > 0;

/** The radio number is in every message, a serial only once the sensor has sent it: the first names it steadily. */
function numberOf(device: FitDevice, serialOnly: ReadonlySet<unknown>): number | undefined {
  if (isNumber(device.antNumber)) return device.antNumber;
  return isNumber(device.serial) && serialOnly.has(device.serial) ? device.serial : undefined;
}

function serialsWithoutRadio(devices: readonly FitDevice[]): ReadonlySet<unknown> {
  const withRadio = new Set(devices.filter((one) => isNumber(one.antNumber)).map((one) => one.serial));
  return new Set(devices.map((one) => one.serial).filter((serial) => !withRadio.has(serial)));
}
