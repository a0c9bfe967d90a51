import { counted, minutesWords } from "../format/quantities.ts";
import type { HoldUpFigures, ResourceFigures } from "./planFigures.ts";
import { bottleneckWords, pieceDays, stepsWords } from "./planWords.ts";

/** What holds the workshop up: how full each limit is, and what more of it would save. */
export function HoldUpsTable({ holdUps }: { readonly holdUps: HoldUpFigures }) {
  if (holdUps.resources.length === 0) return <NotAsked />;
  return (
    <section>
      <h2 id="what-holds-up">What holds the workshop up</h2>
      <p>
        <strong>{bottleneckWords(holdUps)}</strong> Each line was found by planning again with more of that
        one thing.
      </p>
      <table class="stack">
        <thead>
          <tr>
            <th scope="col">Limit</th>
            <th scope="col" class="number">
              Full on average
            </th>
            <th scope="col" class="number">
              At its fullest
            </th>
            <th scope="col">A step more</th>
            <th scope="col">Enough</th>
          </tr>
        </thead>
        <tbody>
          {holdUps.resources.map((resource) => (
            <ResourceRow key={`${resource.kind} ${resource.shape}`} resource={resource} />
          ))}
        </tbody>
      </table>
    </section>
  );
}

function NotAsked() {
  return (
    <section>
      <h2 id="what-holds-up">What holds the workshop up</h2>
      <p>
        This was not asked: the search was ended before. Plan again and let the search come to its end to know
        what one mold set, tray, hour or mixer more would save.
      </p>
    </section>
  );
}

function ResourceRow({ resource }: { readonly resource: ResourceFigures }) {
  const { oneMoreSaves, enough } = resource;
  return (
    <tr>
      <th scope="row">{limitWords(resource)}</th>
      <td class="number" data-label="Full on average">
        {percent(resource.meanLoad)}
      </td>
      <td class="number" data-label="At its fullest">
        {percent(resource.peakLoad)}
      </td>
      <td data-label="A step more">
        {oneMoreSaves > 0 ? `${stepsWords(resource, 1)} saves ${pieceDays(oneMoreSaves)}` : "nothing"}
      </td>
      <td data-label="Enough">
        {enough === null || enough.saves === 0
          ? "more saves nothing"
          : `${stepsWords(resource, enough.more)}: ${pieceDays(enough.saves)} less`}
      </td>
    </tr>
  );
}

function limitWords({ kind, shape, limit }: ResourceFigures): string {
  if (kind === "moldSets") return `${shape}: ${counted(limit, "mold set")}`;
  if (kind === "trays") return counted(limit, "tray");
  if (kind === "mixers") return counted(limit, "mixer");
  return `Hands: at most ${minutesWords(limit)} a session`;
}

function percent(share: number): string {
  return `${Math.round(share * 100)} %`;
}
