/* Lets the scripts of a page that is looked at as of another moment take that moment for the present. */

"use strict";

{
  const Real = Date;
  const shift = Real.parse(document.currentScript.dataset.begins) - Real.now();
  const now = () => Real.now() + shift;
  globalThis.Date = new Proxy(Real, {
    construct: (target, given, asked) => Reflect.construct(target, given.length ? given : [now()], asked),
    apply: () => new Real(now()).toString(),
    get: (target, name, asked) => (name === "now" ? now : Reflect.get(target, name, asked)),
  });
}
