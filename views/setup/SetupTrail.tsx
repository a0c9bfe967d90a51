/** The way back up: Setup, and the list this page belongs to. */
export function SetupTrail({ list }: { readonly list?: { readonly href: string; readonly name: string } }) {
  return (
    <p class="trail">
      <a href="/setup">Setup</a>
      {list && (
        <>
          {" · "}
          <a href={list.href}>{list.name}</a>
        </>
      )}
    </p>
  );
}
