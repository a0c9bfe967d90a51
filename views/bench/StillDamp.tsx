import { Form } from "../components/Form.tsx";
import { counted } from "../format/quantities.ts";

const HOURS = [1, 2, 4, 12];

/** For whoever felt the pieces and found them damp: when to look again, one tap. */
export function StillDamp({ lotId }: { readonly lotId: number }) {
  return (
    <Form action={`/bench/lots/${lotId}/still-damp`} class="still-damp">
      <h2>Still damp?</h2>
      <p class="hint">They stay in their molds. Look again in:</p>
      <p class="actions">
        {HOURS.map((hours) => (
          <button key={hours} type="submit" class="quiet" name="hours" value={hours}>
            {counted(hours, "hour")}
          </button>
        ))}
      </p>
    </Form>
  );
}
