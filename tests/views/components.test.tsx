import type { VNode } from "preact";
import { renderToString } from "preact-render-to-string";
import { describe, expect, it } from "vitest";
import { FactList } from "../../views/components/FactList.tsx";
import { ChoiceField, Field, FormMistake, LongField, TickField } from "../../views/components/Field.tsx";
import { Fold } from "../../views/components/Fold.tsx";
import { Form } from "../../views/components/Form.tsx";
import { freshForm, withMistake } from "../../views/components/formAnswer.ts";
import { BlendFill, blendPatterns, Swatch } from "../../views/components/Swatch.tsx";
import { PageContext } from "../../views/layout/pageContext.ts";

const hostile = `"><script>alert('x')</script><img src=x onerror=alert(1)>`;

describe("a field", () => {
  it("is tied to its label, its hint and its mistake", () => {
    const answer = withMistake(freshForm({ sets: "many" }), "sets", "Give a whole number from 0 to 500.");
    const html = renderToString(<Field name="sets" label="Mold sets" hint="Both halves." answer={answer} />);
    expect(html).toContain('<label for="sets">Mold sets</label>');
    expect(html).toContain('value="many"');
    expect(html).toContain('aria-invalid="true"');
    expect(html).toContain('aria-describedby="sets-hint sets-mistake"');
    expect(html).toContain('id="sets-mistake">Give a whole number from 0 to 500.');
  });

  it("claims no mistake and no hint that is not there", () => {
    const html = renderToString(<Field name="sets" label="Mold sets" answer={freshForm()} />);
    expect(html).not.toMatch(/aria-invalid|aria-describedby|mistake|hint/);
  });

  it("shows whatever was typed as text", () => {
    const answer = withMistake(freshForm({ note: hostile }), "note", hostile);
    const fields = [
      <Field key="1" name="note" label={hostile} hint={hostile} answer={answer} />,
      <LongField key="2" name="note" label="Note" answer={answer} />,
      <ChoiceField
        key="3"
        name="note"
        label="Note"
        answer={answer}
        choices={[{ value: hostile, label: hostile }]}
      />,
      <FormMistake key="4" answer={withMistake(freshForm(), "", hostile)} />,
    ];
    for (const field of fields) expect(tagsOf(field)).not.toMatch(/script|img/);
  });

  it("keeps a choice chosen and a box ticked", () => {
    const answer = freshForm({ driesIn: "whole", mixing: "yes" });
    const choices = [
      { value: "half", label: "in one half" },
      { value: "whole", label: "in the closed set" },
    ];
    const choice = renderToString(
      <ChoiceField name="driesIn" label="Dries" answer={answer} choices={choices} />,
    );
    expect(choice).toMatch(/<option [^>]*selected[^>]*>in the closed set/);
    expect(choice.match(/selected/g)).toHaveLength(1);
    expect(renderToString(<TickField name="mixing" label="Mixing" answer={answer} />)).toContain("checked");
    expect(renderToString(<TickField name="mixing" label="Mixing" answer={freshForm()} />)).not.toContain(
      "checked",
    );
  });
});

describe("a form", () => {
  it("carries the page's token and a number of its own", () => {
    const page = {
      place: null,
      news: null,
      path: "/",
      person: null,
      workshop: null,
      csrfToken: "token-1",
      assetVersion: "",
    };
    const draw = () =>
      renderToString(
        <PageContext.Provider value={page}>
          <Form action="/orders">
            <button type="submit">Send</button>
          </Form>
        </PageContext.Provider>,
      );
    const [one, other] = [draw(), draw()];
    expect(one).toContain('<form action="/orders" method="post">');
    expect(one).toContain('name="_csrf" value="token-1"');
    const number = /name="form_token" value="([0-9a-f-]{36})"/;
    expect(number.exec(one)?.[1]).not.toBe(number.exec(other)?.[1]);
  });
});

describe("a list of facts", () => {
  it("names each, leaves out what is blank, and shows words as text", () => {
    const html = renderToString(
      <FactList
        facts={[
          ["Place", "Under the clock"],
          ["Note", ""],
        ]}
      />,
    );
    expect(html).toContain('<dt>Place</dt><dd class="as-typed">Under the clock</dd>');
    expect(html).not.toContain("Note");
    expect(tagsOf(<FactList facts={[[hostile, hostile]]} />)).not.toMatch(/script|img/);
  });
});

describe("a fold", () => {
  const fold = (open: boolean) =>
    renderToString(
      <Fold name="Contacts" holds="Ottoline Marsh" open={open}>
        <input name="contact" />
      </Fold>,
    );

  it("says its name and what stands in it, and holds its fields whether it is open or not", () => {
    for (const html of [fold(true), fold(false)])
      expect(html).toMatch(/<summary>.*Contacts.*Ottoline Marsh.*<\/summary><input name="contact"/);
    expect([fold(true), fold(false)].map((html) => /^<details[^>]* open/.test(html))).toEqual([true, false]);
  });

  it("shows what stands in it as text", () => {
    const drawn = (
      <Fold name={hostile} holds={hostile} open={false}>
        {hostile}
      </Fold>
    );
    expect(tagsOf(drawn)).not.toMatch(/script|img/);
  });
});

describe("a blend's look", () => {
  it("differs by pattern, not by colour alone", () => {
    const drawn = blendPatterns.map((pattern) =>
      renderToString(<Swatch look={{ name: "Oat", colour: "#c98a3d", pattern }} />),
    );
    expect(new Set(drawn).size).toBe(blendPatterns.length);
  });

  it("has marks that stand out, WCAG 2.2 SC 1.4.11 asks 3 to 1, on every grey", () => {
    for (let level = 0; level <= 255; level += 1) {
      const colour = `#${level.toString(16).padStart(2, "0").repeat(3)}`;
      const fill = renderToString(<BlendFill id="oat" look={{ name: "Oat", colour, pattern: "dots" }} />);
      const mark = /<g fill="(#[0-9a-f]{6})"/.exec(fill)?.[1] ?? "";
      expect(contrast(colour, mark), colour).toBeGreaterThanOrEqual(3);
    }
  });

  it("is a fill that a drawing can name", () => {
    const html = renderToString(
      <BlendFill id="oat" look={{ name: "Oat", colour: "#e8d6b0", pattern: "dots" }} />,
    );
    expect(html).toContain('<pattern id="oat"');
    expect(html).not.toContain("style=");
  });
});

/** The names of all elements that were drawn. */
function tagsOf(view: VNode): string {
  return [...renderToString(view).matchAll(/<([a-z]+)/g)].map((match) => match[1]).join(" ");
}

/** Contrast ratio of two colours (WCAG 2.2, relative luminance), written anew for this check. */
function contrast(one: string, other: string): number {
  const luminance = (colour: string) =>
    [0.2126, 0.7152, 0.0722].reduce((sum, share, index) => {
      const value = Number.parseInt(colour.slice(1 + 2 * index, 3 + 2 * index), 16) / 255;
      return sum + share * (value <= 0.04045 ? value / 12.92 : ((value + 0.055) / 1.055) ** 2.4);
    }, 0);
  const [light, dark] = [luminance(one), luminance(other)].sort((a, b) => b - a);
  return ((light ?? 0) + 0.05) / ((dark ?? 0) + 0.05);
}
