// Drops the draft of a tracing once its lines are kept; the address of the page that follows says of which photo.

const here = new URL(location.href);
const photo = here.searchParams.get("traced");
if (photo) {
  sessionStorage.removeItem(`traced ${photo}`);
  // A reload of this page must not drop a later draft.
  here.searchParams.delete("traced");
  history.replaceState(history.state, "", here);
}
