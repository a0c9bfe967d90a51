import { parentPort, workerData } from "node:worker_threads";
import { planCase as findPlan } from "../planning/planCase.ts";
import { afterSeconds } from "./afterSeconds.ts";
import type { BesideTask } from "./searchBeside.ts";

/*
 * One search in a thread of its own, from its start to its end. It loads the engine and nothing else: a short search ends
 * soon after a thread has begun.
 */

const { planCase, seed, until }: BesideTask = workerData;
const stop = afterSeconds((until - Date.now()) / 1000);
parentPort?.postMessage(findPlan(planCase, { seed, stop, prove: false }));
