/** The recommended daily limit for noise at work: level, hours at that level, and decibels that halve the time. */
export const recommendedLimit = {
  levelDbA: 85,
  hours: 8,
  exchangeDb: 3,
  source: "NIOSH publication 98-126 (1998)",
} as const;

/** How long an adult may listen for pleasure in a week. */
export const hearingAllowance = {
  levelDbA: 80,
  hoursPerWeek: 40,
  source: "the WHO and ITU standard on safe listening devices (2019; ITU-T H.870)",
} as const;

/**
 * The longest time a day, in hours, at `levelDbA` at the ear: half for every 3 dB more.
 *
 * Method: T = 8 / 2^((L − 85)/3), NIOSH publication 98-126 (1998).
 */
export function allowedHours(levelDbA: number): number {
  const {levelDbA: limit, hours, exchangeDb} = recommendedLimit;
  return hours / 2 ** ((levelDbA - limit) / exchangeDb);
}
