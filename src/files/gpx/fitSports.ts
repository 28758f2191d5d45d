/** What people do, as the FIT profile names it; what says nothing of it (`generic`, `all`, `transition`) is left out. Source: FIT SDK profile, `sport`. */
const SPORTS = `
alpine_skiing american_football archery baseball basketball boating boxing canoeing cricket
cross_country_skiing cycling dance disc_golf diving driving e_biking fishing fitness_equipment
floor_climbing flying geocaching golf grinding hang_gliding hiit hiking hockey horseback_riding hunting
ice_skating inline_skating jump_rope jumpmaster kayaking kitesurfing lacrosse meditation
mixed_martial_arts mobility motor_sports motorcycling mountaineering multisport paddling para_sport
pool_apnea racket rafting rock_climbing rowing rugby running sailing shooting sky_diving snorkeling
snowboarding snowmobiling snowshoeing soccer stand_up_paddleboarding surfing swimming tactical team_sport
tennis training  video_gaming volleyball wakeboarding wakesurfing walking water_skiing
water_sport water_tubing wheelchair_push_run wheelchair_push_walk windsurfing winter_sport
`;

const bare = (name: string): string => name.replaceAll('_', '');

const BARE = new Set(SPORTS.trim().split(/\s+/).map(bare));

/** Returns whether the FIT profile has a sport of this name, its words run together or not. */
export const isFitSport = (name: string): boolean => BARE.has(bare(name));
