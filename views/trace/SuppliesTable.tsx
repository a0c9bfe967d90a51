import type { SupplyKind } from "../../server/supplies/kinds.ts";
import { supplyAmountWords } from "../supplies/supplyWords.ts";

interface UsedSupply {
  /** Null: used beyond what the ledger had. */
  readonly supplyLotId: number | null;
  readonly code: string | null;
  readonly supplierLot: string | null;
  readonly supplier: string | null;
  readonly supply: string;
  readonly kind: SupplyKind;
  readonly amount: number;
  readonly runId?: number;
}

/** Lots of supplies with how much of each; what no lot had is said. */
export function SuppliesTable({
  name,
  rows,
}: {
  readonly name: string;
  readonly rows: readonly UsedSupply[];
}) {
  if (rows.length === 0) return null;
  return (
    <>
      <h2>{name}</h2>
      <table class="stack">
        <thead>
          <tr>
            <th scope="col">Supply</th>
            <th scope="col">Lot</th>
            <th scope="col">Supplier and their lot</th>
            <th scope="col" class="number">
              How much
            </th>
          </tr>
        </thead>
        <tbody>
          {rows.map((row) => (
            <tr key={`${row.runId} ${row.supply} ${row.supplyLotId}`}>
              <th scope="row">{row.supply}</th>
              <td data-label="Lot">
                {row.supplyLotId === null ? (
                  "not known: more than the ledger had"
                ) : (
                  <a href={`/trace/supply-lots/${row.supplyLotId}`}>{row.code}</a>
                )}
              </td>
              <td data-label="Supplier and their lot">
                {[row.supplier, row.supplierLot].filter(Boolean).join(", ") || "not known"}
              </td>
              <td data-label="How much" class="number">
                {supplyAmountWords(row.kind, row.amount)}
              </td>
            </tr>
          ))}
        </tbody>
      </table>
    </>
  );
}
