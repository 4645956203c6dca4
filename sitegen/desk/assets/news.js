/* Loads a page again when the files it is made of were saved. One connection serves all tabs: a browser allows only six to a
   host, and a seventh tab would wait for ever. */

"use strict";

{
  const bar = document.getElementById("sitegen-preview") ?? document.querySelector("[data-number]");
  const { run, number } = bar.dataset;
  let isOld = false;

  /** Whoever is choosing in the bar is not torn out of it. */
  const isBusy = () => Boolean(bar.shadowRoot?.activeElement?.matches("input"));

  function follow() {
    if (isOld && !document.hidden && !isBusy()) location.reload();
  }

  if (globalThis.SharedWorker) {
    const { port } = new SharedWorker("/_desk/assets/listener.js");
    port.onmessage = ({ data }) => {
      isOld ||= data.run !== run || data.number > number;
      follow();
    };
    // A page that goes says so, lest the listener call after it for ever; one that comes back from the browser's memory asks again.
    addEventListener("pagehide", () => port.postMessage("gone"));
    addEventListener("pageshow", ({ persisted }) => persisted && location.reload());
  }
  document.addEventListener("visibilitychange", follow);
  bar.shadowRoot?.addEventListener("focusout", () => setTimeout(follow));
}
