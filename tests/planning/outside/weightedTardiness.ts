import { readFileSync } from "node:fs";
import path from "node:path";
import type { JsonCase } from "../independentChecker.ts";

/** Jobs on one machine, all there from the start; the sum of weight times tardiness is to be least. */
export interface TardinessInstance {
  readonly name: string;
  /** By job. */
  readonly processing: readonly number[];
  readonly weights: readonly number[];
  readonly due: readonly number[];
  /** The least weighted tardiness, as published. */
  readonly published: number;
}

const folder = path.join(import.meta.dirname, "orlib");
const jobs = 40;

/**
 * The 125 instances with 40 jobs of Crauwels, Potts and Van Wassenhove, "Local search heuristics for the single machine
 * total weighted tardiness scheduling problem", INFORMS Journal on Computing 10 (1998) 341-350, as given in the
 * OR-Library. All values are proven least, but number 19 (the 19th), which is the best known.
 */
export function orLibraryInstances(): readonly TardinessInstance[] {
  const numbers = numbersOf("wt40.txt");
  return numbersOf("wtopt40.txt").map((published, at) => {
    const part = (index: number) => numbers.slice((at * 3 + index) * jobs, (at * 3 + index + 1) * jobs);
    return {
      name: `wt40 ${at + 1}`,
      processing: part(0),
      weights: part(1),
      due: part(2),
      published,
    };
  });
}

/**
 * Small instances of textbooks. The data of Pinedo, "Scheduling", are from memory; each value was recomputed by trying
 * all orders of the jobs, as the test beside this file does again.
 */
export const textbookInstances: readonly TardinessInstance[] = [
  {
    name: "total tardiness, Pinedo, example 3.4.5",
    processing: [121, 79, 147, 83, 130],
    weights: [1, 1, 1, 1, 1],
    due: [260, 266, 266, 336, 337],
    published: 370,
  },
  {
    name: "weighted tardiness, Pinedo, chapter 3",
    processing: [12, 8, 15, 9],
    weights: [4, 5, 3, 5],
    due: [16, 26, 25, 27],
    published: 67,
  },
  {
    name: "weighted tardiness, Pinedo, chapter 14",
    processing: [10, 10, 13, 4],
    weights: [14, 12, 1, 12],
    due: [4, 2, 1, 12],
    published: 408,
  },
];

/** The data of Moore and Hodgson's rule in Pinedo, example 3.3.3 (from memory): at least two of these jobs are late. */
export const mooreJobs = { processing: [7, 8, 4, 6, 6], due: [9, 17, 18, 19, 21], leastLate: 2 };

/** The least weighted tardiness by trying every order of a few jobs. */
export function leastTardiness({ processing, weights, due }: Omit<TardinessInstance, "published">): number {
  const after = (left: readonly number[], time: number): number => {
    if (left.length === 0) return 0;
    return Math.min(
      ...left.map((job) => {
        const done = time + (processing[job] ?? 0);
        const late = (weights[job] ?? 0) * Math.max(0, done - (due[job] ?? 0));
        return (
          late +
          after(
            left.filter((other) => other !== job),
            done,
          )
        );
      }),
    );
  };
  return after(
    processing.map((_, job) => job),
    0,
  );
}

/**
 * The instance as a planning case of exactly the same optimum: one bowl of one piece a day, each job a complete order of
 * as many pieces of its own blend as it takes time. What is formed on a day is packed the next morning, so that a job
 * done by time C is ready on day C, and a job due at d ships by day d. An order's units weigh weight / processing, which
 * makes a day late cost the job's weight. Splitting a job gains nothing, since no job is released later than another.
 */
export function planningCase(instance: Omit<TardinessInstance, "published">): JsonCase {
  const days = instance.processing.reduce((sum, time) => sum + time, 0) + 1;
  const jobIds = instance.processing.map((_, job) => `job-${job + 1}`);
  return {
    name: instance.name,
    sessions: Array.from({ length: days }, (_, day) => ({
      date: dateOf(day),
      start: "09:00",
      end: "10:00",
      handMinutes: 1_000,
    })),
    mixers: 1,
    bowlGrams: 100,
    minBowlGrams: 100,
    bowlMinutes: 60,
    mixMinutes: 1,
    cleanMinutes: 0,
    trays: 1_000,
    shapes: [
      {
        id: "ball",
        moldSets: 1_000,
        driesIn: "whole",
        moldHours: 12,
        restHours: 0,
        unitsPerTray: 20,
        grams: 100,
        formMinutes: 0,
        turnMinutes: 0,
        unmoldMinutes: 0,
        packMinutes: 0,
      },
    ],
    blends: jobIds.map((id) => ({ id, shade: 0 })),
    products: jobIds.map((id) => ({ id: `${id}/ball`, blend: id, shape: "ball" })),
    orders: jobIds.map((id, job) => {
      const units = instance.processing[job] ?? 0;
      return {
        id,
        terms: "complete",
        shipBy: dateOf(instance.due[job] ?? 0),
        weight: (instance.weights[job] ?? 0) / units,
        lines: [{ product: `${id}/ball`, units }],
      };
    }),
  };
}

function dateOf(day: number): string {
  return new Date(Date.UTC(2027, 0, 4 + day)).toISOString().slice(0, 10);
}

function numbersOf(file: string): readonly number[] {
  return readFileSync(path.join(folder, file), "utf8").trim().split(/\s+/).map(Number);
}
