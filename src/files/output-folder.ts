import { dirname, join, resolve } from "node:path";

/** Where a quote goes unless the person says otherwise: `quote` in the job's folder, or beside a lone list. */
export function usualOutputFolder(job: string): string {
  const lone = /\.csv$/i.test(job);
  return join(lone ? dirname(resolve(job)) : job, "quote");
}
