/** Calendar arithmetic on naive local dates and times, in whole days and whole minutes since 1970-01-01T00:00. */

export const minutesPerDay = 1440;

const datePattern = /^(\d{4})-(\d{2})-(\d{2})$/;
const timePattern = /^(\d{2}):(\d{2})$/;

/**
 * Days from 1970-01-01 to a date `YYYY-MM-DD`, or null where no such date exists.
 * Counts with years that begin on 1 March, so that a leap day is the last day of its year.
 */
export function dayNumber(date: string): number | null {
  const parts = datePattern.exec(date);
  if (parts === null) return null;
  const [year, month, day] = [Number(parts[1]), Number(parts[2]), Number(parts[3])];
  if (month < 1 || month > 12 || day < 1 || day > daysInMonth(year, month)) return null;
  const marchYear = month > 2 ? year : year - 1;
  const monthsSinceMarch = (month + 9) % 12;
  const dayOfYear = Math.floor((153 * monthsSinceMarch + 2) / 5) + day - 1;
  return marchYear * 365 + leapDaysBefore(marchYear) + dayOfYear - daysTo1970;
}

/** The date `YYYY-MM-DD` of a day number. */
export function dateOfDay(day: number): string {
  const sinceMarchZero = day + daysTo1970;
  let marchYear = Math.floor(sinceMarchZero / 365.2425);
  while (marchYear * 365 + leapDaysBefore(marchYear) > sinceMarchZero) marchYear -= 1;
  while ((marchYear + 1) * 365 + leapDaysBefore(marchYear + 1) <= sinceMarchZero) marchYear += 1;
  const dayOfYear = sinceMarchZero - (marchYear * 365 + leapDaysBefore(marchYear));
  const monthsSinceMarch = Math.floor((5 * dayOfYear + 2) / 153);
  const dayOfMonth = dayOfYear - Math.floor((153 * monthsSinceMarch + 2) / 5) + 1;
  const month = ((monthsSinceMarch + 2) % 12) + 1;
  const year = month > 2 ? marchYear : marchYear + 1;
  return `${String(year).padStart(4, "0")}-${twoDigits(month)}-${twoDigits(dayOfMonth)}`;
}

/** Minutes from midnight to a clock time `HH:MM`, `24:00` included, or null where there is no such time. */
export function minuteOfDay(time: string): number | null {
  const parts = timePattern.exec(time);
  if (parts === null) return null;
  const minutes = Number(parts[1]) * 60 + Number(parts[2]);
  return Number(parts[2]) < 60 && minutes <= minutesPerDay ? minutes : null;
}

/** Minutes since 1970-01-01T00:00 of `YYYY-MM-DDTHH:MM`, or null where there is no such moment. */
export function momentMinutes(moment: string): number | null {
  const day = dayNumber(moment.slice(0, 10));
  const minutes = minuteOfDay(moment.slice(11));
  return day === null || minutes === null || moment[10] !== "T" ? null : day * minutesPerDay + minutes;
}

/** `hours` times `factor` in minutes, rounded up to the whole minute after taking off floating-point noise. */
export function wholeMinutes(hours: number, factor: number): number {
  return Math.ceil(hours * factor * 60 - 1e-6);
}

const daysTo1970 = 719_468;

function leapDaysBefore(marchYear: number): number {
  return Math.floor(marchYear / 4) - Math.floor(marchYear / 100) + Math.floor(marchYear / 400);
}

function daysInMonth(year: number, month: number): number {
  if (month === 2) return year % 4 === 0 && (year % 100 !== 0 || year % 400 === 0) ? 29 : 28;
  return month === 4 || month === 6 || month === 9 || month === 11 ? 30 : 31;
}

function twoDigits(value: number): string {
  return String(value).padStart(2, "0");
}
