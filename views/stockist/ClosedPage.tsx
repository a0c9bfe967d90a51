/** The same for an address that never was, was withdrawn, or whose shop no longer orders. */
export function ClosedPage() {
  return (
    <>
      <h1>There is no order page at this address.</h1>
      <p>Please ask the workshop for the address that is in use.</p>
    </>
  );
}
