// Heard: what a phone sounds for once someone has touched it: an emergency, an alarm
// about its person's own robot, and that robot's call. The wall has a bell of its own.

import { Bell } from "./bell.js";

/** @typedef {import("./ctx.d.ts").Ctx} Ctx */
/** @typedef {import("./wire.d.ts").Alarm} Alarm */

/** Begins to sound. @param {Ctx} ctx */
export function hear(ctx) {
  const bell = new Bell();
  const allow = async () => {
    await bell.allow();
    if (bell.on) removeEventListener("pointerup", allow);
  };
  addEventListener("pointerup", allow);
  allow();
  ctx.clock.each(() => {
    if (ctx.live.me?.person && document.documentElement.dataset.screen !== "wall") bell.ring(sounding(ctx), ctx.clock.now());
  });
}

/** The robots that a person has to do with now. @param {Ctx} ctx @param {string} me */
function own({ board }, me) {
  const mine = board.all("robot").filter((r) => r.lead === me || r.driver === me).map((r) => r.id);
  const on = [...board.all("tag"), ...board.all("hands")].filter((n) => n.person === me).map((n) => n.robot);
  return new Set([...mine, ...on, board.get(`todo/${me}`)?.robot ?? ""]);
}

/**
 * What a phone sounds for: emergencies, what is about its person's robots, their calls.
 * @param {Ctx} ctx
 * @returns {[string, Alarm][]}
 */
function sounding(ctx) {
  const robots = own(ctx, ctx.live.me?.person ?? "");
  const alarms = ctx.board.entries("alarm")
    .filter(([key, alarm]) => key.startsWith("alarm/A-emergency-") || (alarm.robot && robots.has(alarm.robot)));
  const calls = ctx.board.all("call").filter((call) => call.callNow && !call.onNow && robots.has(call.robot))
    .map((call) => /** @type {[string, any]} */ ([`call/${call.robot}`, { class: "B", since: call.fight }]));
  return [...alarms, ...calls];
}
