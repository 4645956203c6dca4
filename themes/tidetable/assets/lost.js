// On a host that minds capitals, or that adds no slash at the end: tries the address once more as this site writes them.
// The site has small letters only, so an address that is already so is left alone, and nobody is sent round in circles.
(() => {
  const root = document.currentScript.dataset.root;
  const here = location.pathname;
  if (!here.toLowerCase().startsWith(root.toLowerCase())) return;
  const typed = here.slice(root.length).toLowerCase().replace(/^\/+|[.,;:!?)'\/]+$/g, "");
  if (!typed) return;
  const there = root + typed + (typed.split("/").pop().includes(".") ? "" : "/");
  if (there === here) return;
  const address = new URL(location.href);
  address.pathname = there;
  location.replace(address);
})();
