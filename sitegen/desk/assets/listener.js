/* The one connection that all tabs of a browser share: passes on the number of the newest look at the station's files. */

"use strict";

const ports = new Set();
let newest = null;

function tell(look) {
  newest = look;
  for (const port of ports) port.postMessage(look);
}

// The browser opens it again by itself when it breaks, as when the preview is started anew.
new EventSource("/_desk/changes").onmessage = ({ data }) => tell(JSON.parse(data));

onconnect = ({ ports: [port] }) => {
  ports.add(port);
  port.onmessage = () => ports.delete(port);
  if (newest) port.postMessage(newest);
};
