// One full example of all that goes over the wire: messages, commands, nouns,
// derived nouns, and the bodies of the HTTP routes. Every field is there and none
// is zero. "go test ./server -run TestWire -update" writes this file from the Go
// structs; the type check of the pages reads it.

/** @satisfies {import('../../frontend/core/wire.d.ts').Hello} */
export const messageHello = {"t":"hello","proto":"mendline.v1","epoch":"5b2c8f2e-1d3c-4c56-9a77-0c0ffee00001","rev":42,"from":42,"now":"2026-05-09T14:02:31.500Z","role":"crew","person":"7637d109-7b67-5b1a-800f-cdcd51df429c","name":"Tin Moth","readOnly":"The board could not write to its disk.","clock":"clock","version":"1.0.0"};

/** @satisfies {import('../../frontend/core/wire.d.ts').Whole} */
export const messageWhole = {"t":"board","epoch":"5b2c8f2e-1d3c-4c56-9a77-0c0ffee00001","rev":42,"at":"2026-05-09T14:02:31.500Z","put":{"note/917dfe43-04aa-5b89-82b8-80c11aa2a36b":{"id":"917dfe43-04aa-5b89-82b8-80c11aa2a36b","v":42,"text":"blade is bent","by":"7637d109-7b67-5b1a-800f-cdcd51df429c","at":"2026-05-09T14:02:31.500Z"}}};

/** @satisfies {import('../../frontend/core/wire.d.ts').Patches} */
export const messagePatches = {"t":"patches","list":[{"rev":42,"at":"2026-05-09T14:02:31.500Z","by":"7637d109-7b67-5b1a-800f-cdcd51df429c","do":"note.add","put":{"note/917dfe43-04aa-5b89-82b8-80c11aa2a36b":{"id":"917dfe43-04aa-5b89-82b8-80c11aa2a36b","v":42,"text":"blade is bent","by":"7637d109-7b67-5b1a-800f-cdcd51df429c","at":"2026-05-09T14:02:31.500Z"}},"del":["note/917dfe43-04aa-5b89-82b8-80c11aa2a36b"]}]};

/** @satisfies {import('../../frontend/core/wire.d.ts').Ack} */
export const messageAck = {"t":"ack","id":"019e0d4f-5c8c-7b2a-9d31-6f1f0a2b3c4d","rev":42};

/** @satisfies {import('../../frontend/core/wire.d.ts').Refused} */
export const messageRefused = {"t":"refused","id":"019e0d4f-5c8c-7b2a-9d31-6f1f0a2b3c4d","refusal":{"code":"stale","rule":3,"ruleSays":"rule says","field":"seen","sentence":"Someone changed this since you looked. Read what it says now, then repeat if it still holds.","job":"ef619680-f043-5897-92c9-8f9143810ea0","now":"robot/f63e3b14-334d-50e6-9a81-16e1fb973c8a"},"entity":{"id":"917dfe43-04aa-5b89-82b8-80c11aa2a36b","v":42,"text":"blade is bent","by":"7637d109-7b67-5b1a-800f-cdcd51df429c","at":"2026-05-09T14:02:31.500Z"}};

/** @satisfies {import('../../frontend/core/wire.d.ts').Beat} */
export const messageBeat = {"t":"beat","now":"2026-05-09T14:02:31.500Z","readOnly":"The board could not write to its disk.","clock":"clock"};

/** @satisfies {import('../../frontend/core/wire.d.ts').Echo} */
export const messageEcho = {"t":"echo","sent":2.5,"got":"2026-05-09T14:02:31.500Z","now":"2026-05-09T14:02:31.500Z"};

/** @satisfies {import('../../frontend/core/wire.d.ts').Forecast} */
export const messageForecast = {"t":"forecast","epoch":"5b2c8f2e-1d3c-4c56-9a77-0c0ffee00001","seq":9,"of":42,"at":"2026-05-09T14:02:31.500Z","whole":true,"put":{"note/917dfe43-04aa-5b89-82b8-80c11aa2a36b":{"id":"917dfe43-04aa-5b89-82b8-80c11aa2a36b","v":42,"text":"blade is bent","by":"7637d109-7b67-5b1a-800f-cdcd51df429c","at":"2026-05-09T14:02:31.500Z"}},"del":["note/917dfe43-04aa-5b89-82b8-80c11aa2a36b"]};

/** @satisfies {import('../../frontend/core/wire.d.ts').Resume} */
export const messageResume = {"t":"resume","epoch":"5b2c8f2e-1d3c-4c56-9a77-0c0ffee00001","rev":42};

/** @satisfies {import('../../frontend/core/wire.d.ts').DoMessage} */
export const messageDoMessage = {"t":"do","id":"019e0d4f-5c8c-7b2a-9d31-6f1f0a2b3c4d","do":"note.add","with":{"text":"blade is bent"},"seen":{"robot/f63e3b14-334d-50e6-9a81-16e1fb973c8a":42},"at":"2026-05-09T14:02:31.500Z","shiftSec":3,"pins":[{"person":"7637d109-7b67-5b1a-800f-cdcd51df429c","pin":"271828"}]};

/** @satisfies {import('../../frontend/core/wire.d.ts').AskEcho} */
export const messageAskEcho = {"t":"echo","sent":2.5};

/** @satisfies {import('../../frontend/core/wire.d.ts').Commands["event.set"]} */
export const doEventSet = {"name":"Tin Moth","offsetMin":3,"currency":"currency","activationOrder":["activation order"],"deactivationOrder":["deactivation order"],"spinDownSec":3,"leadFights":3,"leadSec":3,"restSec":3,"restFrom":"match-end","restTo":"call","postponeSec":3,"postponeFor":"team","fightMeanSec":3,"fightMeanWorth":3,"breaks":[{"from":"2026-05-09T14:02:31.500Z","to":"2026-05-09T14:02:31.500Z"}],"failsafeAt":["test-box"],"emergencyContact":"emergency contact","chargingPlaces":["6bb78f05-34ae-585c-9ae4-f7fe5db9a632"],"attendantMost":3,"tightBelow":3,"wontBelow":3,"repairerMaySign":true,"minorsDrive":true,"recheckSec":3,"loadIn":true,"hotWork":{"needed":true,"text":"blade is bent","by":"by","until":"2026-05-09T14:02:31.500Z"},"card":{"text":"blade is bent","approvedBy":"approved by"},"reason":"reason"};

/** @satisfies {import('../../frontend/core/wire.d.ts').Commands["wording.set"]} */
export const doWordingSet = {"list":"make-safe","lines":[{"id":"019e0d4f-5c8c-7b2a-9d31-6f1f0a2b3c4d","ask":"ask","touch":"touch","say":"say","not":"not","part":"part","kind":"number","notFitted":true,"covers":["weapon"],"unit":"unit","least":2.5,"most":2.5,"choices":["choices"]}]};

/** @satisfies {import('../../frontend/core/wire.d.ts').Commands["person.add"]} */
export const doPersonAdd = {"name":"Tin Moth","role":"crew","skills":["weld"],"authorised":["weapon-power"],"minor":true,"guest":true,"signer":true,"from":"from","reason":"reason"};

/** @satisfies {import('../../frontend/core/wire.d.ts').Commands["person.change"]} */
export const doPersonChange = {"person":"7637d109-7b67-5b1a-800f-cdcd51df429c","name":"Tin Moth","role":"crew","skills":["weld"],"authorised":["weapon-power"],"minor":true,"guest":true,"signer":true,"from":"from","reason":"reason"};

/** @satisfies {import('../../frontend/core/wire.d.ts').Commands["person.retire"]} */
export const doPersonRetire = {"person":"7637d109-7b67-5b1a-800f-cdcd51df429c"};

/** @satisfies {import('../../frontend/core/wire.d.ts').Commands["person.brief"]} */
export const doPersonBrief = {"person":"7637d109-7b67-5b1a-800f-cdcd51df429c"};

/** @satisfies {import('../../frontend/core/wire.d.ts').Commands["robot.add"]} */
export const doRobotAdd = {"name":"Tin Moth","number":3,"class":{"name":"Tin Moth","limit":2.5,"unit":"lb","ruleSet":"rule set","bonusPct":2.5,"bonus":"bonus","walkingGrams":2.5},"size":"light","energies":[{"kind":"weapon-power","isolator":"isolator","reach":"outside","moves":"moves","restSec":3}],"locks":["lock"],"lead":"7637d109-7b67-5b1a-800f-cdcd51df429c","driver":"7637d109-7b67-5b1a-800f-cdcd51df429c","hands":3,"beforeSec":3,"afterSec":3,"secondVerifier":true,"mainPacks":3,"weaponPacks":3,"weight":3,"reason":"reason"};

/** @satisfies {import('../../frontend/core/wire.d.ts').Commands["robot.change"]} */
export const doRobotChange = {"robot":"f63e3b14-334d-50e6-9a81-16e1fb973c8a","name":"Tin Moth","number":3,"class":{"name":"Tin Moth","limit":2.5,"unit":"lb","ruleSet":"rule set","bonusPct":2.5,"bonus":"bonus","walkingGrams":2.5},"size":"light","energies":[{"kind":"weapon-power","isolator":"isolator","reach":"outside","moves":"moves","restSec":3}],"locks":["lock"],"lead":"7637d109-7b67-5b1a-800f-cdcd51df429c","driver":"7637d109-7b67-5b1a-800f-cdcd51df429c","hands":3,"beforeSec":3,"afterSec":3,"secondVerifier":true,"mainPacks":3,"weaponPacks":3,"weight":3,"reason":"reason"};

/** @satisfies {import('../../frontend/core/wire.d.ts').Commands["robot.energy-off"]} */
export const doRobotEnergyOff = {"robot":"f63e3b14-334d-50e6-9a81-16e1fb973c8a","energy":"weapon-power","reason":"reason"};

/** @satisfies {import('../../frontend/core/wire.d.ts').Commands["robot.withdraw"]} */
export const doRobotWithdraw = {"robot":"f63e3b14-334d-50e6-9a81-16e1fb973c8a"};

/** @satisfies {import('../../frontend/core/wire.d.ts').Commands["robot.back-in"]} */
export const doRobotBackIn = {"robot":"f63e3b14-334d-50e6-9a81-16e1fb973c8a"};

/** @satisfies {import('../../frontend/core/wire.d.ts').Commands["robot.retire"]} */
export const doRobotRetire = {"robot":"f63e3b14-334d-50e6-9a81-16e1fb973c8a"};

/** @satisfies {import('../../frontend/core/wire.d.ts').Commands["place.add"]} */
export const doPlaceAdd = {"name":"Tin Moth","kind":"bench","inSight":["6bb78f05-34ae-585c-9ae4-f7fe5db9a632"]};

/** @satisfies {import('../../frontend/core/wire.d.ts').Commands["place.change"]} */
export const doPlaceChange = {"place":"6bb78f05-34ae-585c-9ae4-f7fe5db9a632","name":"Tin Moth","kind":"bench","inSight":["6bb78f05-34ae-585c-9ae4-f7fe5db9a632"],"reason":"reason"};

/** @satisfies {import('../../frontend/core/wire.d.ts').Commands["place.turn"]} */
export const doPlaceTurn = {"place":"6bb78f05-34ae-585c-9ae4-f7fe5db9a632","kind":"bench","reason":"reason"};

/** @satisfies {import('../../frontend/core/wire.d.ts').Commands["place.retire"]} */
export const doPlaceRetire = {"place":"6bb78f05-34ae-585c-9ae4-f7fe5db9a632"};

/** @satisfies {import('../../frontend/core/wire.d.ts').Commands["station.add"]} */
export const doStationAdd = {"name":"Tin Moth","kind":"bench","count":3,"place":"6bb78f05-34ae-585c-9ae4-f7fe5db9a632"};

/** @satisfies {import('../../frontend/core/wire.d.ts').Commands["station.change"]} */
export const doStationChange = {"station":"b38fedad-922e-59da-93bf-5ff5ecf70f98","name":"Tin Moth","kind":"bench","count":3,"place":"6bb78f05-34ae-585c-9ae4-f7fe5db9a632"};

/** @satisfies {import('../../frontend/core/wire.d.ts').Commands["station.retire"]} */
export const doStationRetire = {"station":"b38fedad-922e-59da-93bf-5ff5ecf70f98"};

/** @satisfies {import('../../frontend/core/wire.d.ts').Commands["stock.add"]} */
export const doStockAdd = {"name":"Tin Moth","count":3,"where":"where","massGrams":3,"listCents":3,"paidCents":3,"leadDays":3,"lender":"lender"};

/** @satisfies {import('../../frontend/core/wire.d.ts').Commands["stock.change"]} */
export const doStockChange = {"stock":"0d46107d-cb46-5025-bf09-70f6640c3e11","name":"Tin Moth","count":3,"where":"where","massGrams":3,"listCents":3,"paidCents":3,"leadDays":3,"lender":"lender"};

/** @satisfies {import('../../frontend/core/wire.d.ts').Commands["stock.retire"]} */
export const doStockRetire = {"stock":"0d46107d-cb46-5025-bf09-70f6640c3e11"};

/** @satisfies {import('../../frontend/core/wire.d.ts').Commands["stock.use"]} */
export const doStockUse = {"stock":"0d46107d-cb46-5025-bf09-70f6640c3e11","count":3};

/** @satisfies {import('../../frontend/core/wire.d.ts').Commands["stock.count"]} */
export const doStockCount = {"stock":"0d46107d-cb46-5025-bf09-70f6640c3e11","count":3};

/** @satisfies {import('../../frontend/core/wire.d.ts').Commands["circuit.add"]} */
export const doCircuitAdd = {"name":"Tin Moth","volts":2.5,"ratingAmps":2.5,"otherAmps":2.5,"saidBy":"said by"};

/** @satisfies {import('../../frontend/core/wire.d.ts').Commands["circuit.change"]} */
export const doCircuitChange = {"circuit":"00a21c20-876c-55c5-ba39-0b83baaab82c","name":"Tin Moth","volts":2.5,"ratingAmps":2.5,"otherAmps":2.5,"saidBy":"said by"};

/** @satisfies {import('../../frontend/core/wire.d.ts').Commands["circuit.retire"]} */
export const doCircuitRetire = {"circuit":"00a21c20-876c-55c5-ba39-0b83baaab82c"};

/** @satisfies {import('../../frontend/core/wire.d.ts').Commands["circuit.off"]} */
export const doCircuitOff = {"circuit":"00a21c20-876c-55c5-ba39-0b83baaab82c"};

/** @satisfies {import('../../frontend/core/wire.d.ts').Commands["circuit.on"]} */
export const doCircuitOn = {"circuit":"00a21c20-876c-55c5-ba39-0b83baaab82c","saidBy":"said by"};

/** @satisfies {import('../../frontend/core/wire.d.ts').Commands["channel.add"]} */
export const doChannelAdd = {"name":"Tin Moth","charger":"charger","ampsMost":2.5,"wattsMost":2.5,"chargerWatts":2.5,"cellsMost":3,"powerFactor":2.5,"circuit":"00a21c20-876c-55c5-ba39-0b83baaab82c","place":"6bb78f05-34ae-585c-9ae4-f7fe5db9a632"};

/** @satisfies {import('../../frontend/core/wire.d.ts').Commands["channel.change"]} */
export const doChannelChange = {"channel":"a8d34c0f-b83f-52c0-b5ef-7a4423a614c4","name":"Tin Moth","charger":"charger","ampsMost":2.5,"wattsMost":2.5,"chargerWatts":2.5,"cellsMost":3,"powerFactor":2.5,"circuit":"00a21c20-876c-55c5-ba39-0b83baaab82c","place":"6bb78f05-34ae-585c-9ae4-f7fe5db9a632"};

/** @satisfies {import('../../frontend/core/wire.d.ts').Commands["channel.retire"]} */
export const doChannelRetire = {"channel":"a8d34c0f-b83f-52c0-b5ef-7a4423a614c4"};

/** @satisfies {import('../../frontend/core/wire.d.ts').Commands["template.add"]} */
export const doTemplateAdd = {"name":"Tin Moth","size":"light","triage":"must","fixes":[{"name":"Tin Moth","way":"swap","likelySec":3,"badSec":3,"hands":["weld"],"station":"bench","where":"in","stock":[{"stock":"0d46107d-cb46-5025-bf09-70f6640c3e11","count":3}],"touches":["weapon"],"lockout":true,"packOut":true,"limits":"limits","worksPct":3}],"reason":"reason"};

/** @satisfies {import('../../frontend/core/wire.d.ts').Commands["template.change"]} */
export const doTemplateChange = {"template":"eddc15f4-688e-5e70-bf4e-6c8c61b2c903","name":"Tin Moth","size":"light","triage":"must","fixes":[{"name":"Tin Moth","way":"swap","likelySec":3,"badSec":3,"hands":["weld"],"station":"bench","where":"in","stock":[{"stock":"0d46107d-cb46-5025-bf09-70f6640c3e11","count":3}],"touches":["weapon"],"lockout":true,"packOut":true,"limits":"limits","worksPct":3}],"reason":"reason"};

/** @satisfies {import('../../frontend/core/wire.d.ts').Commands["template.retire"]} */
export const doTemplateRetire = {"template":"eddc15f4-688e-5e70-bf4e-6c8c61b2c903"};

/** @satisfies {import('../../frontend/core/wire.d.ts').Commands["part.add"]} */
export const doPartAdd = {"robot":"f63e3b14-334d-50e6-9a81-16e1fb973c8a","name":"Tin Moth","assembly":"assembly","material":"material","massGrams":2.5,"materialListCents":3,"materialPaidCents":3,"machiningListCents":3,"machiningPaidCents":3,"ownSec":3,"leadDays":3,"stock":"0d46107d-cb46-5025-bf09-70f6640c3e11","offSec":3,"offBadSec":3,"bendMmPer100":2.5,"first":[{"parts":["9a7bf502-2530-5b17-97b8-33da910e0c93"]}],"next":["9a7bf502-2530-5b17-97b8-33da910e0c93"],"serves":[{"function":"function","share":3}]};

/** @satisfies {import('../../frontend/core/wire.d.ts').Commands["part.change"]} */
export const doPartChange = {"part":"9a7bf502-2530-5b17-97b8-33da910e0c93","robot":"f63e3b14-334d-50e6-9a81-16e1fb973c8a","name":"Tin Moth","assembly":"assembly","material":"material","massGrams":2.5,"materialListCents":3,"materialPaidCents":3,"machiningListCents":3,"machiningPaidCents":3,"ownSec":3,"leadDays":3,"stock":"0d46107d-cb46-5025-bf09-70f6640c3e11","offSec":3,"offBadSec":3,"bendMmPer100":2.5,"first":[{"parts":["9a7bf502-2530-5b17-97b8-33da910e0c93"]}],"next":["9a7bf502-2530-5b17-97b8-33da910e0c93"],"serves":[{"function":"function","share":3}]};

/** @satisfies {import('../../frontend/core/wire.d.ts').Commands["part.retire"]} */
export const doPartRetire = {"part":"9a7bf502-2530-5b17-97b8-33da910e0c93"};

/** @satisfies {import('../../frontend/core/wire.d.ts').Commands["part.bend"]} */
export const doPartBend = {"part":"9a7bf502-2530-5b17-97b8-33da910e0c93","gapMm":2.5,"overMm":2.5};

/** @satisfies {import('../../frontend/core/wire.d.ts').Commands["joint.add"]} */
export const doJointAdd = {"robot":"f63e3b14-334d-50e6-9a81-16e1fb973c8a","name":"Tin Moth","parts":["9a7bf502-2530-5b17-97b8-33da910e0c93"],"fastening":"fastening","count":3,"tool":"tool","offSec":3,"offBadSec":3};

/** @satisfies {import('../../frontend/core/wire.d.ts').Commands["joint.change"]} */
export const doJointChange = {"joint":"cf985d6b-656b-50eb-9e5d-dd505c382e83","robot":"f63e3b14-334d-50e6-9a81-16e1fb973c8a","name":"Tin Moth","parts":["9a7bf502-2530-5b17-97b8-33da910e0c93"],"fastening":"fastening","count":3,"tool":"tool","offSec":3,"offBadSec":3};

/** @satisfies {import('../../frontend/core/wire.d.ts').Commands["joint.retire"]} */
export const doJointRetire = {"joint":"cf985d6b-656b-50eb-9e5d-dd505c382e83"};

/** @satisfies {import('../../frontend/core/wire.d.ts').Commands["module.add"]} */
export const doModuleAdd = {"robot":"f63e3b14-334d-50e6-9a81-16e1fb973c8a","slot":"slot","name":"Tin Moth","massGrams":2.5,"swapSec":3,"swapBadSec":3,"lasts":3,"stock":"0d46107d-cb46-5025-bf09-70f6640c3e11"};

/** @satisfies {import('../../frontend/core/wire.d.ts').Commands["module.change"]} */
export const doModuleChange = {"module":"c48f0e7c-304a-5836-9881-5fe0ebf6a878","robot":"f63e3b14-334d-50e6-9a81-16e1fb973c8a","slot":"slot","name":"Tin Moth","massGrams":2.5,"swapSec":3,"swapBadSec":3,"lasts":3,"stock":"0d46107d-cb46-5025-bf09-70f6640c3e11"};

/** @satisfies {import('../../frontend/core/wire.d.ts').Commands["module.renew"]} */
export const doModuleRenew = {"module":"c48f0e7c-304a-5836-9881-5fe0ebf6a878"};

/** @satisfies {import('../../frontend/core/wire.d.ts').Commands["module.retire"]} */
export const doModuleRetire = {"module":"c48f0e7c-304a-5836-9881-5fe0ebf6a878"};

/** @satisfies {import('../../frontend/core/wire.d.ts').Commands["setup.add"]} */
export const doSetupAdd = {"robot":"f63e3b14-334d-50e6-9a81-16e1fb973c8a","name":"Tin Moth","modules":["c48f0e7c-304a-5836-9881-5fe0ebf6a878"],"declared":true,"against":["against"],"notes":"notes","notNeeded":["not needed"]};

/** @satisfies {import('../../frontend/core/wire.d.ts').Commands["setup.change"]} */
export const doSetupChange = {"setup":"a254c1f6-edf4-527e-9ac5-f38504831dbb","robot":"f63e3b14-334d-50e6-9a81-16e1fb973c8a","name":"Tin Moth","modules":["c48f0e7c-304a-5836-9881-5fe0ebf6a878"],"declared":true,"against":["against"],"notes":"notes","notNeeded":["not needed"]};

/** @satisfies {import('../../frontend/core/wire.d.ts').Commands["setup.retire"]} */
export const doSetupRetire = {"setup":"a254c1f6-edf4-527e-9ac5-f38504831dbb"};

/** @satisfies {import('../../frontend/core/wire.d.ts').Commands["construction.add"]} */
export const doConstructionAdd = {"robot":"f63e3b14-334d-50e6-9a81-16e1fb973c8a","name":"Tin Moth","built":true,"guessed":true,"massGrams":2.5,"listCents":3,"mends":[{"group":"group","parts":["parts"],"accessSec":3,"accessBadSec":3,"joints":3,"name":"Tin Moth","from":3,"each":true,"likelySec":3,"badSec":3,"costCents":3}],"notes":"notes"};

/** @satisfies {import('../../frontend/core/wire.d.ts').Commands["construction.change"]} */
export const doConstructionChange = {"construction":"bba144be-e773-52fb-87f6-81d7d9cd1702","robot":"f63e3b14-334d-50e6-9a81-16e1fb973c8a","name":"Tin Moth","built":true,"guessed":true,"massGrams":2.5,"listCents":3,"mends":[{"group":"group","parts":["parts"],"accessSec":3,"accessBadSec":3,"joints":3,"name":"Tin Moth","from":3,"each":true,"likelySec":3,"badSec":3,"costCents":3}],"notes":"notes"};

/** @satisfies {import('../../frontend/core/wire.d.ts').Commands["construction.retire"]} */
export const doConstructionRetire = {"construction":"bba144be-e773-52fb-87f6-81d7d9cd1702"};

/** @satisfies {import('../../frontend/core/wire.d.ts').Commands["pack.add"]} */
export const doPackAdd = {"name":"Tin Moth","chemistry":"lipo","cells":3,"parallel":3,"capacityAh":2.5,"chargeAmpsMost":2.5,"fasterBy":"faster by","use":"main","massGrams":2.5,"fits":["f63e3b14-334d-50e6-9a81-16e1fb973c8a"]};

/** @satisfies {import('../../frontend/core/wire.d.ts').Commands["pack.change"]} */
export const doPackChange = {"pack":"d724cd33-22db-5334-a08d-1243008299dd","name":"Tin Moth","chemistry":"lipo","cells":3,"parallel":3,"capacityAh":2.5,"chargeAmpsMost":2.5,"fasterBy":"faster by","use":"main","massGrams":2.5,"fits":["f63e3b14-334d-50e6-9a81-16e1fb973c8a"]};

/** @satisfies {import('../../frontend/core/wire.d.ts').Commands["pack.retire"]} */
export const doPackRetire = {"pack":"d724cd33-22db-5334-a08d-1243008299dd"};

/** @satisfies {import('../../frontend/core/wire.d.ts').Commands["pack.move"]} */
export const doPackMove = {"pack":"d724cd33-22db-5334-a08d-1243008299dd","place":"6bb78f05-34ae-585c-9ae4-f7fe5db9a632","robot":"f63e3b14-334d-50e6-9a81-16e1fb973c8a","found":true};

/** @satisfies {import('../../frontend/core/wire.d.ts').Commands["pack.choose"]} */
export const doPackChoose = {"pack":"d724cd33-22db-5334-a08d-1243008299dd","robot":"f63e3b14-334d-50e6-9a81-16e1fb973c8a"};

/** @satisfies {import('../../frontend/core/wire.d.ts').Commands["pack.set"]} */
export const doPackSet = {"pack":"d724cd33-22db-5334-a08d-1243008299dd","state":"cooling","why":"why"};

/** @satisfies {import('../../frontend/core/wire.d.ts').Commands["pack.read"]} */
export const doPackRead = {"pack":"d724cd33-22db-5334-a08d-1243008299dd","cellVolts":[2.5],"tempC":2.5,"airC":2.5,"milliOhm":2.5,"returnedAh":2.5,"chargeMin":2.5,"look":"fine","charged":true,"sure":true};

/** @satisfies {import('../../frontend/core/wire.d.ts').Commands["pack.charge"]} */
export const doPackCharge = {"pack":"d724cd33-22db-5334-a08d-1243008299dd","channel":"a8d34c0f-b83f-52c0-b5ef-7a4423a614c4","attendant":"7637d109-7b67-5b1a-800f-cdcd51df429c","cells":3,"amps":2.5,"contained":true};

/** @satisfies {import('../../frontend/core/wire.d.ts').Commands["pack.attend"]} */
export const doPackAttend = {"pack":"d724cd33-22db-5334-a08d-1243008299dd","person":"7637d109-7b67-5b1a-800f-cdcd51df429c"};

/** @satisfies {import('../../frontend/core/wire.d.ts').Commands["pack.off"]} */
export const doPackOff = {"pack":"d724cd33-22db-5334-a08d-1243008299dd"};

/** @satisfies {import('../../frontend/core/wire.d.ts').Commands["fight.add"]} */
export const doFightAdd = {"robot":"f63e3b14-334d-50e6-9a81-16e1fb973c8a","arena":"main","number":3,"opponent":"opponent","opponentKind":"opponent kind","notBefore":"2026-05-09T14:02:31.500Z","after":"0c93aec5-25ab-5974-96b0-c0c890474e76","if":"won"};

/** @satisfies {import('../../frontend/core/wire.d.ts').Commands["fight.change"]} */
export const doFightChange = {"fight":"0c93aec5-25ab-5974-96b0-c0c890474e76","robot":"f63e3b14-334d-50e6-9a81-16e1fb973c8a","arena":"main","number":3,"opponent":"opponent","opponentKind":"opponent kind","notBefore":"2026-05-09T14:02:31.500Z","after":"0c93aec5-25ab-5974-96b0-c0c890474e76","if":"won"};

/** @satisfies {import('../../frontend/core/wire.d.ts').Commands["fight.move"]} */
export const doFightMove = {"fight":"0c93aec5-25ab-5974-96b0-c0c890474e76","arena":"main","number":3,"notBefore":"2026-05-09T14:02:31.500Z"};

/** @satisfies {import('../../frontend/core/wire.d.ts').Commands["fight.drop"]} */
export const doFightDrop = {"fight":"0c93aec5-25ab-5974-96b0-c0c890474e76"};

/** @satisfies {import('../../frontend/core/wire.d.ts').Commands["fight.now"]} */
export const doFightNow = {"arena":"main","number":3,"sure":true};

/** @satisfies {import('../../frontend/core/wire.d.ts').Commands["fight.postpone"]} */
export const doFightPostpone = {"fight":"0c93aec5-25ab-5974-96b0-c0c890474e76"};

/** @satisfies {import('../../frontend/core/wire.d.ts').Commands["fight.pause"]} */
export const doFightPause = {"fight":"0c93aec5-25ab-5974-96b0-c0c890474e76","from":"2026-05-09T14:02:31.500Z","to":"2026-05-09T14:02:31.500Z"};

/** @satisfies {import('../../frontend/core/wire.d.ts').Commands["fight.not-fought"]} */
export const doFightNotFought = {"fight":"0c93aec5-25ab-5974-96b0-c0c890474e76","reason":"reason"};

/** @satisfies {import('../../frontend/core/wire.d.ts').Commands["fight.end"]} */
export const doFightEnd = {"fight":"0c93aec5-25ab-5974-96b0-c0c890474e76","result":"won"};

/** @satisfies {import('../../frontend/core/wire.d.ts').Commands["damage.report"]} */
export const doDamageReport = {"robot":"f63e3b14-334d-50e6-9a81-16e1fb973c8a","part":"part","what":"what","grade":"G2","fight":"0c93aec5-25ab-5974-96b0-c0c890474e76","hit":3,"severity":"hard","onPart":"9a7bf502-2530-5b17-97b8-33da910e0c93","onJoint":"cf985d6b-656b-50eb-9e5d-dd505c382e83","stuck":true,"destroyed":true,"worksPct":3,"touches":["weapon"],"accept":true};

/** @satisfies {import('../../frontend/core/wire.d.ts').Commands["damage.regrade"]} */
export const doDamageRegrade = {"damage":"17b9d384-ce8b-560f-a4c9-5d955cc56500","grade":"G2","what":"what","drop":true,"reason":"reason"};

/** @satisfies {import('../../frontend/core/wire.d.ts').Commands["damage.accept"]} */
export const doDamageAccept = {"damage":"17b9d384-ce8b-560f-a4c9-5d955cc56500","person":"7637d109-7b67-5b1a-800f-cdcd51df429c"};

/** @satisfies {import('../../frontend/core/wire.d.ts').Commands["damage.off"]} */
export const doDamageOff = {"damage":"17b9d384-ce8b-560f-a4c9-5d955cc56500","what":"what","back":true};

/** @satisfies {import('../../frontend/core/wire.d.ts').Commands["damage.look"]} */
export const doDamageLook = {"damage":"17b9d384-ce8b-560f-a4c9-5d955cc56500","person":"7637d109-7b67-5b1a-800f-cdcd51df429c"};

/** @satisfies {import('../../frontend/core/wire.d.ts').Commands["damage.move"]} */
export const doDamageMove = {"damage":"17b9d384-ce8b-560f-a4c9-5d955cc56500","robot":"f63e3b14-334d-50e6-9a81-16e1fb973c8a","reason":"reason"};

/** @satisfies {import('../../frontend/core/wire.d.ts').Commands["damage.outcome"]} */
export const doDamageOutcome = {"damage":"17b9d384-ce8b-560f-a4c9-5d955cc56500","stuck":true,"destroyed":true,"worksPct":3};

/** @satisfies {import('../../frontend/core/wire.d.ts').Commands["damage.hit"]} */
export const doDamageHit = {"damage":"17b9d384-ce8b-560f-a4c9-5d955cc56500","fight":"0c93aec5-25ab-5974-96b0-c0c890474e76","hit":3,"severity":"hard"};

/** @satisfies {import('../../frontend/core/wire.d.ts').Commands["damage.photo"]} */
export const doDamagePhoto = {"damage":"17b9d384-ce8b-560f-a4c9-5d955cc56500","photo":"1c182f96-0ff7-5db1-a5e8-4c006e12418d"};

/** @satisfies {import('../../frontend/core/wire.d.ts').Commands["job.add"]} */
export const doJobAdd = {"robot":"f63e3b14-334d-50e6-9a81-16e1fb973c8a","name":"Tin Moth","triage":"must","fixes":[{"name":"Tin Moth","way":"swap","likelySec":3,"badSec":3,"hands":["weld"],"station":"bench","where":"in","stock":[{"stock":"0d46107d-cb46-5025-bf09-70f6640c3e11","count":3}],"touches":["weapon"],"lockout":true,"packOut":true,"limits":"limits","worksPct":3}],"damages":["17b9d384-ce8b-560f-a4c9-5d955cc56500"],"template":"eddc15f4-688e-5e70-bf4e-6c8c61b2c903","after":["ef619680-f043-5897-92c9-8f9143810ea0"],"followUpOf":"ef619680-f043-5897-92c9-8f9143810ea0","people":["7637d109-7b67-5b1a-800f-cdcd51df429c"],"reason":"reason"};

/** @satisfies {import('../../frontend/core/wire.d.ts').Commands["job.change"]} */
export const doJobChange = {"job":"ef619680-f043-5897-92c9-8f9143810ea0","robot":"f63e3b14-334d-50e6-9a81-16e1fb973c8a","name":"Tin Moth","triage":"must","fixes":[{"name":"Tin Moth","way":"swap","likelySec":3,"badSec":3,"hands":["weld"],"station":"bench","where":"in","stock":[{"stock":"0d46107d-cb46-5025-bf09-70f6640c3e11","count":3}],"touches":["weapon"],"lockout":true,"packOut":true,"limits":"limits","worksPct":3}],"damages":["17b9d384-ce8b-560f-a4c9-5d955cc56500"],"template":"eddc15f4-688e-5e70-bf4e-6c8c61b2c903","after":["ef619680-f043-5897-92c9-8f9143810ea0"],"followUpOf":"ef619680-f043-5897-92c9-8f9143810ea0","reason":"reason"};

/** @satisfies {import('../../frontend/core/wire.d.ts').Commands["job.fix"]} */
export const doJobFix = {"job":"ef619680-f043-5897-92c9-8f9143810ea0","chosen":3};

/** @satisfies {import('../../frontend/core/wire.d.ts').Commands["job.assign"]} */
export const doJobAssign = {"job":"ef619680-f043-5897-92c9-8f9143810ea0","people":["7637d109-7b67-5b1a-800f-cdcd51df429c"]};

/** @satisfies {import('../../frontend/core/wire.d.ts').Commands["job.start"]} */
export const doJobStart = {"job":"ef619680-f043-5897-92c9-8f9143810ea0","station":"b38fedad-922e-59da-93bf-5ff5ecf70f98","fix":3};

/** @satisfies {import('../../frontend/core/wire.d.ts').Commands["job.hold"]} */
export const doJobHold = {"job":"ef619680-f043-5897-92c9-8f9143810ea0","why":"part","text":"blade is bent","minutes":3};

/** @satisfies {import('../../frontend/core/wire.d.ts').Commands["job.resume"]} */
export const doJobResume = {"job":"ef619680-f043-5897-92c9-8f9143810ea0","station":"b38fedad-922e-59da-93bf-5ff5ecf70f98"};

/** @satisfies {import('../../frontend/core/wire.d.ts').Commands["job.join"]} */
export const doJobJoin = {"job":"ef619680-f043-5897-92c9-8f9143810ea0","station":"b38fedad-922e-59da-93bf-5ff5ecf70f98"};

/** @satisfies {import('../../frontend/core/wire.d.ts').Commands["job.leave"]} */
export const doJobLeave = {"job":"ef619680-f043-5897-92c9-8f9143810ea0"};

/** @satisfies {import('../../frontend/core/wire.d.ts').Commands["job.finish"]} */
export const doJobFinish = {"job":"ef619680-f043-5897-92c9-8f9143810ea0"};

/** @satisfies {import('../../frontend/core/wire.d.ts').Commands["job.reinspect"]} */
export const doJobReinspect = {"job":"ef619680-f043-5897-92c9-8f9143810ea0","person":"7637d109-7b67-5b1a-800f-cdcd51df429c"};

/** @satisfies {import('../../frontend/core/wire.d.ts').Commands["job.reopen"]} */
export const doJobReopen = {"job":"ef619680-f043-5897-92c9-8f9143810ea0","reason":"reason"};

/** @satisfies {import('../../frontend/core/wire.d.ts').Commands["job.drop"]} */
export const doJobDrop = {"job":"ef619680-f043-5897-92c9-8f9143810ea0","reason":"reason"};

/** @satisfies {import('../../frontend/core/wire.d.ts').Commands["job.defer"]} */
export const doJobDefer = {"job":"ef619680-f043-5897-92c9-8f9143810ea0","acceptor":"7637d109-7b67-5b1a-800f-cdcd51df429c","reason":"reason"};

/** @satisfies {import('../../frontend/core/wire.d.ts').Commands["tag.on"]} */
export const doTagOn = {"robot":"f63e3b14-334d-50e6-9a81-16e1fb973c8a","person":"7637d109-7b67-5b1a-800f-cdcd51df429c","isolator":"isolator"};

/** @satisfies {import('../../frontend/core/wire.d.ts').Commands["tag.off"]} */
export const doTagOff = {"tag":"6f72fdfa-6efc-538a-a653-ab81e441d562"};

/** @satisfies {import('../../frontend/core/wire.d.ts').Commands["hands.on"]} */
export const doHandsOn = {"robot":"f63e3b14-334d-50e6-9a81-16e1fb973c8a","person":"7637d109-7b67-5b1a-800f-cdcd51df429c"};

/** @satisfies {import('../../frontend/core/wire.d.ts').Commands["hands.off"]} */
export const doHandsOff = {"hands":"a542f0b4-79ef-5040-b886-d858a4feb9c4"};

/** @satisfies {import('../../frontend/core/wire.d.ts').Commands["tag.override"]} */
export const doTagOverride = {"tag":"6f72fdfa-6efc-538a-a653-ab81e441d562","second":"7637d109-7b67-5b1a-800f-cdcd51df429c","lookedWhere":"looked where","calledHow":"called how","calledAt":"2026-05-09T14:02:31.500Z","checkedBy":"7637d109-7b67-5b1a-800f-cdcd51df429c","reason":"reason","asked":true};

/** @satisfies {import('../../frontend/core/wire.d.ts').Commands["hands.override"]} */
export const doHandsOverride = {"hands":"a542f0b4-79ef-5040-b886-d858a4feb9c4","second":"7637d109-7b67-5b1a-800f-cdcd51df429c","lookedWhere":"looked where","calledHow":"called how","calledAt":"2026-05-09T14:02:31.500Z","checkedBy":"7637d109-7b67-5b1a-800f-cdcd51df429c","reason":"reason","asked":true};

/** @satisfies {import('../../frontend/core/wire.d.ts').Commands["notice.take"]} */
export const doNoticeTake = {"notice":"bd89f7bd-1423-52b6-a7b9-e41b45a803e8"};

/** @satisfies {import('../../frontend/core/wire.d.ts').Commands["sheet.answer"]} */
export const doSheetAnswer = {"sheet":"49b09ff9-c440-599c-b445-6dadf1cb4b87","line":"line","said":"done","number":2.5,"place":"6bb78f05-34ae-585c-9ae4-f7fe5db9a632","pack":"d724cd33-22db-5334-a08d-1243008299dd","told":"7637d109-7b67-5b1a-800f-cdcd51df429c","choice":"choice","sure":true,"person":"7637d109-7b67-5b1a-800f-cdcd51df429c","paper":true,"at":"2026-05-09T14:02:31.500Z"};

/** @satisfies {import('../../frontend/core/wire.d.ts').Commands["robot.doubt"]} */
export const doRobotDoubt = {"robot":"f63e3b14-334d-50e6-9a81-16e1fb973c8a","why":"why"};

/** @satisfies {import('../../frontend/core/wire.d.ts').Commands["robot.stop"]} */
export const doRobotStop = {"robot":"f63e3b14-334d-50e6-9a81-16e1fb973c8a","why":"why"};

/** @satisfies {import('../../frontend/core/wire.d.ts').Commands["robot.go-on"]} */
export const doRobotGoOn = {"robot":"f63e3b14-334d-50e6-9a81-16e1fb973c8a"};

/** @satisfies {import('../../frontend/core/wire.d.ts').Commands["robot.load-in"]} */
export const doRobotLoadIn = {"robot":"f63e3b14-334d-50e6-9a81-16e1fb973c8a"};

/** @satisfies {import('../../frontend/core/wire.d.ts').Commands["robot.list"]} */
export const doRobotList = {"robot":"f63e3b14-334d-50e6-9a81-16e1fb973c8a","list":"make-safe"};

/** @satisfies {import('../../frontend/core/wire.d.ts').Commands["robot.fit"]} */
export const doRobotFit = {"robot":"f63e3b14-334d-50e6-9a81-16e1fb973c8a","setup":"a254c1f6-edf4-527e-9ac5-f38504831dbb","modules":["c48f0e7c-304a-5836-9881-5fe0ebf6a878"]};

/** @satisfies {import('../../frontend/core/wire.d.ts').Commands["robot.weigh"]} */
export const doRobotWeigh = {"robot":"f63e3b14-334d-50e6-9a81-16e1fb973c8a","grams":2.5,"scale":"scale","stepGrams":2.5,"sure":true};

/** @satisfies {import('../../frontend/core/wire.d.ts').Commands["robot.place"]} */
export const doRobotPlace = {"robot":"f63e3b14-334d-50e6-9a81-16e1fb973c8a","place":"6bb78f05-34ae-585c-9ae4-f7fe5db9a632","sure":true};

/** @satisfies {import('../../frontend/core/wire.d.ts').Commands["robot.close-up"]} */
export const doRobotCloseUp = {"robot":"f63e3b14-334d-50e6-9a81-16e1fb973c8a"};

/** @satisfies {import('../../frontend/core/wire.d.ts').Commands["robot.reopen"]} */
export const doRobotReopen = {"robot":"f63e3b14-334d-50e6-9a81-16e1fb973c8a"};

/** @satisfies {import('../../frontend/core/wire.d.ts').Commands["robot.test"]} */
export const doRobotTest = {"robot":"f63e3b14-334d-50e6-9a81-16e1fb973c8a","what":"what","place":"6bb78f05-34ae-585c-9ae4-f7fe5db9a632","minutes":3};

/** @satisfies {import('../../frontend/core/wire.d.ts').Commands["robot.test-end"]} */
export const doRobotTestEnd = {"robot":"f63e3b14-334d-50e6-9a81-16e1fb973c8a"};

/** @satisfies {import('../../frontend/core/wire.d.ts').Commands["robot.live"]} */
export const doRobotLive = {"robot":"f63e3b14-334d-50e6-9a81-16e1fb973c8a","place":"6bb78f05-34ae-585c-9ae4-f7fe5db9a632"};

/** @satisfies {import('../../frontend/core/wire.d.ts').Commands["emergency.raise"]} */
export const doEmergencyRaise = {"robot":"f63e3b14-334d-50e6-9a81-16e1fb973c8a","place":"6bb78f05-34ae-585c-9ae4-f7fe5db9a632","what":"what"};

/** @satisfies {import('../../frontend/core/wire.d.ts').Commands["emergency.end"]} */
export const doEmergencyEnd = {"emergency":"b702df04-71fb-5572-92ac-6a90a002560c","how":"how"};

/** @satisfies {import('../../frontend/core/wire.d.ts').Commands["alarm.take"]} */
export const doAlarmTake = {"alarm":"1abf1c5a-ec33-5397-b454-c65d9b391150"};

/** @satisfies {import('../../frontend/core/wire.d.ts').Commands["work.take"]} */
export const doWorkTake = {"work":"work"};

/** @satisfies {import('../../frontend/core/wire.d.ts').Commands["alarm.shelve"]} */
export const doAlarmShelve = {"alarm":"1abf1c5a-ec33-5397-b454-c65d9b391150","minutes":3,"reason":"reason","nextCall":"2026-05-09T14:02:31.500Z"};

/** @satisfies {import('../../frontend/core/wire.d.ts').Commands["time.set"]} */
export const doTimeSet = {"bySec":3,"sure":true};

/** @satisfies {import('../../frontend/core/wire.d.ts').Commands["learn.set"]} */
export const doLearnSet = {"kind":"eddc15f4-688e-5e70-bf4e-6c8c61b2c903","on":true};

/** @satisfies {import('../../frontend/core/wire.d.ts').Commands["plan.replace"]} */
export const doPlanReplace = {"tasks":[{"job":"ef619680-f043-5897-92c9-8f9143810ea0","off":true,"people":["7637d109-7b67-5b1a-800f-cdcd51df429c"],"fix":3,"startAt":"2026-05-09T14:02:31.500Z","endAt":"2026-05-09T14:02:31.500Z"}],"charges":[{"pack":"d724cd33-22db-5334-a08d-1243008299dd","robot":"f63e3b14-334d-50e6-9a81-16e1fb973c8a","channel":"a8d34c0f-b83f-52c0-b5ef-7a4423a614c4","amps":2.5,"startAt":"2026-05-09T14:02:31.500Z","endAt":"2026-05-09T14:02:31.500Z"}]};

/** @satisfies {import('../../frontend/core/wire.d.ts').Commands["note.add"]} */
export const doNoteAdd = {"about":"robot/f63e3b14-334d-50e6-9a81-16e1fb973c8a","text":"blade is bent"};

/** @satisfies {import('../../frontend/core/wire.d.ts').Commands["note.settle"]} */
export const doNoteSettle = {"note":"917dfe43-04aa-5b89-82b8-80c11aa2a36b"};

/** @satisfies {import('../../frontend/core/wire.d.ts').Commands["undo"]} */
export const doUndo = {"command":"019e0d4f-5c8c-7b2a-9d31-6f1f0a2b3c4d"};

/** @satisfies {import('../../frontend/core/wire.d.ts').Nouns["event"]} */
export const nounEvent = {"v":42,"name":"Tin Moth","offsetMin":3,"currency":"currency","activationOrder":["activation order"],"deactivationOrder":["deactivation order"],"spinDownSec":3,"leadFights":3,"leadSec":3,"restSec":3,"restFrom":"match-end","restTo":"call","postponeSec":3,"postponeFor":"team","fightMeanSec":3,"fightMeanWorth":3,"breaks":[{"from":"2026-05-09T14:02:31.500Z","to":"2026-05-09T14:02:31.500Z"}],"failsafeAt":["test-box"],"emergencyContact":"emergency contact","chargingPlaces":["6bb78f05-34ae-585c-9ae4-f7fe5db9a632"],"attendantMost":3,"tightBelow":3,"wontBelow":3,"repairerMaySign":true,"minorsDrive":true,"recheckSec":3,"loadIn":true,"hotWork":{"needed":true,"text":"blade is bent","by":"by","until":"2026-05-09T14:02:31.500Z"},"card":{"text":"blade is bent","approvedBy":"approved by"},"entered":{"activationOrder":"2026-05-09T14:02:31.500Z","spinDown":"2026-05-09T14:02:31.500Z","chargingPlaces":"2026-05-09T14:02:31.500Z","emergencyContact":"2026-05-09T14:02:31.500Z","card":"2026-05-09T14:02:31.500Z"},"once":{"loadIn":true,"hotWork":true,"failsafe":true},"loosened":[{"what":"what","reason":"reason","by":"7637d109-7b67-5b1a-800f-cdcd51df429c","at":"2026-05-09T14:02:31.500Z","setting":"setting","until":"2026-05-09T14:02:31.500Z","hurt":"f63e3b14-334d-50e6-9a81-16e1fb973c8a"}]};

/** @satisfies {import('../../frontend/core/wire.d.ts').Nouns["person"]} */
export const nounPerson = {"id":"7637d109-7b67-5b1a-800f-cdcd51df429c","v":42,"name":"Tin Moth","role":"crew","skills":["weld"],"authorised":["weapon-power"],"minor":true,"guest":true,"signer":true,"from":"from","claimed":"2026-05-09T14:02:31.500Z","claimedOn":"7637d109-7b67-5b1a-800f-cdcd51df429c","retired":true,"briefedAt":"2026-05-09T14:02:31.500Z","briefedBy":"7637d109-7b67-5b1a-800f-cdcd51df429c","forgotten":{"by":"7637d109-7b67-5b1a-800f-cdcd51df429c","at":"2026-05-09T14:02:31.500Z","rev":42},"loosened":[{"what":"what","reason":"reason","by":"7637d109-7b67-5b1a-800f-cdcd51df429c","at":"2026-05-09T14:02:31.500Z","setting":"setting","until":"2026-05-09T14:02:31.500Z","hurt":"f63e3b14-334d-50e6-9a81-16e1fb973c8a"}]};

/** @satisfies {import('../../frontend/core/wire.d.ts').Nouns["robot"]} */
export const nounRobot = {"id":"f63e3b14-334d-50e6-9a81-16e1fb973c8a","v":42,"name":"Tin Moth","number":3,"class":{"name":"Tin Moth","limit":2.5,"unit":"lb","ruleSet":"rule set","bonusPct":2.5,"bonus":"bonus","walkingGrams":2.5},"size":"light","energies":[{"kind":"weapon-power","isolator":"isolator","reach":"outside","moves":"moves","restSec":3}],"locks":["lock"],"lead":"7637d109-7b67-5b1a-800f-cdcd51df429c","driver":"7637d109-7b67-5b1a-800f-cdcd51df429c","hands":3,"beforeSec":3,"afterSec":3,"secondVerifier":true,"mainPacks":3,"weaponPacks":3,"weight":3,"withdrawn":true,"retired":true,"names":["names"],"once":{"energies":[{"kind":"weapon-power","isolator":"isolator","reach":"outside","moves":"moves","restSec":3}],"links":3,"locks":["lock"],"secondVerifier":true,"mainPacks":3,"weaponPacks":3,"limitGrams":2.5},"loosened":[{"what":"what","reason":"reason","by":"7637d109-7b67-5b1a-800f-cdcd51df429c","at":"2026-05-09T14:02:31.500Z","setting":"setting","until":"2026-05-09T14:02:31.500Z","hurt":"f63e3b14-334d-50e6-9a81-16e1fb973c8a"}]};

/** @satisfies {import('../../frontend/core/wire.d.ts').Nouns["power"]} */
export const nounPower = {"robot":"f63e3b14-334d-50e6-9a81-16e1fb973c8a","v":42,"state":"verified","since":"2026-05-09T14:02:31.500Z","by":"7637d109-7b67-5b1a-800f-cdcd51df429c","why":"why","conflict":true,"day":"2026-05-09","place":"6bb78f05-34ae-585c-9ae4-f7fe5db9a632","isolatedBy":"7637d109-7b67-5b1a-800f-cdcd51df429c","verifiedBy":"7637d109-7b67-5b1a-800f-cdcd51df429c","verifiedAt":"2026-05-09T14:02:31.500Z","readyBy":"7637d109-7b67-5b1a-800f-cdcd51df429c","readyOn":"7637d109-7b67-5b1a-800f-cdcd51df429c","test":{"what":"what","place":"6bb78f05-34ae-585c-9ae4-f7fe5db9a632","until":"2026-05-09T14:02:31.500Z","by":"7637d109-7b67-5b1a-800f-cdcd51df429c"},"foughtAt":"2026-05-09T14:02:31.500Z","liveAt":"2026-05-09T14:02:31.500Z","offAt":"2026-05-09T14:02:31.500Z","poweredAt":"2026-05-09T14:02:31.500Z","fitted":["d724cd33-22db-5334-a08d-1243008299dd"],"failsafeOwed":true,"stop":{"by":"7637d109-7b67-5b1a-800f-cdcd51df429c","at":"2026-05-09T14:02:31.500Z","why":"why"},"covered":[{"from":"2026-05-09T14:02:31.500Z","to":"2026-05-09T14:02:31.500Z"}],"packOut":[{"from":"2026-05-09T14:02:31.500Z","to":"2026-05-09T14:02:31.500Z"}],"own":[{"person":"7637d109-7b67-5b1a-800f-cdcd51df429c","from":"2026-05-09T14:02:31.500Z","to":"2026-05-09T14:02:31.500Z"}]};

/** @satisfies {import('../../frontend/core/wire.d.ts').Nouns["place"]} */
export const nounPlace = {"id":"6bb78f05-34ae-585c-9ae4-f7fe5db9a632","v":42,"name":"Tin Moth","kind":"bench","inSight":["6bb78f05-34ae-585c-9ae4-f7fe5db9a632"],"retired":true,"once":{"name":"Tin Moth","kind":"bench"},"loosened":[{"what":"what","reason":"reason","by":"7637d109-7b67-5b1a-800f-cdcd51df429c","at":"2026-05-09T14:02:31.500Z","setting":"setting","until":"2026-05-09T14:02:31.500Z","hurt":"f63e3b14-334d-50e6-9a81-16e1fb973c8a"}]};

/** @satisfies {import('../../frontend/core/wire.d.ts').Nouns["station"]} */
export const nounStation = {"id":"b38fedad-922e-59da-93bf-5ff5ecf70f98","v":42,"name":"Tin Moth","kind":"bench","count":3,"place":"6bb78f05-34ae-585c-9ae4-f7fe5db9a632","retired":true};

/** @satisfies {import('../../frontend/core/wire.d.ts').Nouns["stock"]} */
export const nounStock = {"id":"0d46107d-cb46-5025-bf09-70f6640c3e11","v":42,"name":"Tin Moth","count":3,"where":"where","massGrams":3,"listCents":3,"paidCents":3,"leadDays":3,"lender":"lender","retired":true};

/** @satisfies {import('../../frontend/core/wire.d.ts').Nouns["pack"]} */
export const nounPack = {"id":"d724cd33-22db-5334-a08d-1243008299dd","v":42,"name":"Tin Moth","chemistry":"lipo","cells":3,"parallel":3,"capacityAh":2.5,"chargeAmpsMost":2.5,"fasterBy":"faster by","use":"main","massGrams":2.5,"fits":["f63e3b14-334d-50e6-9a81-16e1fb973c8a"],"state":"cooling","place":"6bb78f05-34ae-585c-9ae4-f7fe5db9a632","robot":"f63e3b14-334d-50e6-9a81-16e1fb973c8a","placedAt":"2026-05-09T14:02:31.500Z","perhaps":"6bb78f05-34ae-585c-9ae4-f7fe5db9a632","cameBack":true,"found":true,"unread":true,"powered":true,"reading":{"at":"2026-05-09T14:02:31.500Z","by":"7637d109-7b67-5b1a-800f-cdcd51df429c","cellVolts":[2.5],"cellsAt":"2026-05-09T14:02:31.500Z","tempC":2.5,"tempAt":"2026-05-09T14:02:31.500Z","airC":2.5,"milliOhm":2.5,"returnedAh":2.5,"chargeMin":2.5,"look":"fine","charged":true,"fought":"f63e3b14-334d-50e6-9a81-16e1fb973c8a","amps":2.5},"lost":true,"channel":"a8d34c0f-b83f-52c0-b5ef-7a4423a614c4","attendant":"7637d109-7b67-5b1a-800f-cdcd51df429c","attendAt":"2026-05-09T14:02:31.500Z","stayedAt":"2026-05-09T14:02:31.500Z","unsure":true,"unsureAt":"2026-05-09T14:02:31.500Z","heardLate":{"what":"what","by":"7637d109-7b67-5b1a-800f-cdcd51df429c","at":"2026-05-09T14:02:31.500Z","heard":"2026-05-09T14:02:31.500Z"},"away":{"robot":"f63e3b14-334d-50e6-9a81-16e1fb973c8a","at":"2026-05-09T14:02:31.500Z"},"amps":2.5,"stopped":"00a21c20-876c-55c5-ba39-0b83baaab82c","usedAt":"2026-05-09T14:02:31.500Z","fought":"f63e3b14-334d-50e6-9a81-16e1fb973c8a","chosenFor":"f63e3b14-334d-50e6-9a81-16e1fb973c8a","reweighAt":"2026-05-09T14:02:31.500Z","since":"2026-05-09T14:02:31.500Z","retired":true};

/** @satisfies {import('../../frontend/core/wire.d.ts').Nouns["packlog"]} */
export const nounPackLog = {"pack":"d724cd33-22db-5334-a08d-1243008299dd","v":42,"readings":[{"at":"2026-05-09T14:02:31.500Z","by":"7637d109-7b67-5b1a-800f-cdcd51df429c","cellVolts":[2.5],"cellsAt":"2026-05-09T14:02:31.500Z","tempC":2.5,"tempAt":"2026-05-09T14:02:31.500Z","airC":2.5,"milliOhm":2.5,"returnedAh":2.5,"chargeMin":2.5,"look":"fine","charged":true,"fought":"f63e3b14-334d-50e6-9a81-16e1fb973c8a","amps":2.5}]};

/** @satisfies {import('../../frontend/core/wire.d.ts').Nouns["channel"]} */
export const nounChannel = {"id":"a8d34c0f-b83f-52c0-b5ef-7a4423a614c4","v":42,"name":"Tin Moth","charger":"charger","ampsMost":2.5,"wattsMost":2.5,"chargerWatts":2.5,"cellsMost":3,"powerFactor":2.5,"circuit":"00a21c20-876c-55c5-ba39-0b83baaab82c","place":"6bb78f05-34ae-585c-9ae4-f7fe5db9a632","retired":true};

/** @satisfies {import('../../frontend/core/wire.d.ts').Nouns["circuit"]} */
export const nounCircuit = {"id":"00a21c20-876c-55c5-ba39-0b83baaab82c","v":42,"name":"Tin Moth","volts":2.5,"ratingAmps":2.5,"otherAmps":2.5,"saidBy":"said by","offAt":"2026-05-09T14:02:31.500Z","offBy":"7637d109-7b67-5b1a-800f-cdcd51df429c","retired":true};

/** @satisfies {import('../../frontend/core/wire.d.ts').Nouns["template"]} */
export const nounTemplate = {"id":"eddc15f4-688e-5e70-bf4e-6c8c61b2c903","v":42,"name":"Tin Moth","size":"light","triage":"must","fixes":[{"name":"Tin Moth","way":"swap","likelySec":3,"badSec":3,"hands":["weld"],"station":"bench","where":"in","stock":[{"stock":"0d46107d-cb46-5025-bf09-70f6640c3e11","count":3}],"touches":["weapon"],"lockout":true,"packOut":true,"limits":"limits","worksPct":3}],"retired":true,"once":{"must":true,"fixes":[{"name":"Tin Moth","way":"swap","likelySec":3,"badSec":3,"hands":["weld"],"station":"bench","where":"in","stock":[{"stock":"0d46107d-cb46-5025-bf09-70f6640c3e11","count":3}],"touches":["weapon"],"lockout":true,"packOut":true,"limits":"limits","worksPct":3}]},"loosened":[{"what":"what","reason":"reason","by":"7637d109-7b67-5b1a-800f-cdcd51df429c","at":"2026-05-09T14:02:31.500Z","setting":"setting","until":"2026-05-09T14:02:31.500Z","hurt":"f63e3b14-334d-50e6-9a81-16e1fb973c8a"}]};

/** @satisfies {import('../../frontend/core/wire.d.ts').Nouns["fight"]} */
export const nounFight = {"id":"0c93aec5-25ab-5974-96b0-c0c890474e76","v":42,"robot":"f63e3b14-334d-50e6-9a81-16e1fb973c8a","arena":"main","number":3,"opponent":"opponent","opponentKind":"opponent kind","notBefore":"2026-05-09T14:02:31.500Z","after":"0c93aec5-25ab-5974-96b0-c0c890474e76","if":"won","state":"planned","result":"won","onAt":"2026-05-09T14:02:31.500Z","endAt":"2026-05-09T14:02:31.500Z","liveAt":"2026-05-09T14:02:31.500Z","setup":"a254c1f6-edf4-527e-9ac5-f38504831dbb","leftAt":"2026-05-09T14:02:31.500Z","benchAt":"2026-05-09T14:02:31.500Z","postponed":{"at":"2026-05-09T14:02:31.500Z","by":"7637d109-7b67-5b1a-800f-cdcd51df429c","sec":3},"over":{"at":"2026-05-09T14:02:31.500Z","was":"2026-05-09T14:02:31.500Z"},"loosened":[{"what":"what","reason":"reason","by":"7637d109-7b67-5b1a-800f-cdcd51df429c","at":"2026-05-09T14:02:31.500Z","setting":"setting","until":"2026-05-09T14:02:31.500Z","hurt":"f63e3b14-334d-50e6-9a81-16e1fb973c8a"}],"pauses":[{"from":"2026-05-09T14:02:31.500Z","to":"2026-05-09T14:02:31.500Z"}]};

/** @satisfies {import('../../frontend/core/wire.d.ts').Nouns["sighting"]} */
export const nounSighting = {"id":"8adc086a-67dc-5f48-96cc-1153de6a19a9","v":42,"arena":"main","number":3,"at":"2026-05-09T14:02:31.500Z","by":"7637d109-7b67-5b1a-800f-cdcd51df429c"};

/** @satisfies {import('../../frontend/core/wire.d.ts').Nouns["damage"]} */
export const nounDamage = {"id":"17b9d384-ce8b-560f-a4c9-5d955cc56500","v":42,"number":3,"robot":"f63e3b14-334d-50e6-9a81-16e1fb973c8a","part":"part","what":"what","grade":"G2","fight":"0c93aec5-25ab-5974-96b0-c0c890474e76","hit":3,"severity":"hard","onPart":"9a7bf502-2530-5b17-97b8-33da910e0c93","onJoint":"cf985d6b-656b-50eb-9e5d-dd505c382e83","stuck":true,"destroyed":true,"worksPct":3,"touches":["weapon"],"by":"7637d109-7b67-5b1a-800f-cdcd51df429c","at":"2026-05-09T14:02:31.500Z","photos":["1c182f96-0ff7-5db1-a5e8-4c006e12418d"],"dropped":true,"gradedAt":"2026-05-09T14:02:31.500Z","raisedAt":"2026-05-09T14:02:31.500Z","loosened":[{"what":"what","reason":"reason","by":"7637d109-7b67-5b1a-800f-cdcd51df429c","at":"2026-05-09T14:02:31.500Z","setting":"setting","until":"2026-05-09T14:02:31.500Z","hurt":"f63e3b14-334d-50e6-9a81-16e1fb973c8a"}],"acceptor":"7637d109-7b67-5b1a-800f-cdcd51df429c","acceptedAt":"2026-05-09T14:02:31.500Z","off":{"what":"what","by":"7637d109-7b67-5b1a-800f-cdcd51df429c","at":"2026-05-09T14:02:31.500Z"},"backAt":"2026-05-09T14:02:31.500Z","looked":{"by":"7637d109-7b67-5b1a-800f-cdcd51df429c","at":"2026-05-09T14:02:31.500Z"}};

/** @satisfies {import('../../frontend/core/wire.d.ts').Nouns["job"]} */
export const nounJob = {"id":"ef619680-f043-5897-92c9-8f9143810ea0","v":42,"number":3,"robot":"f63e3b14-334d-50e6-9a81-16e1fb973c8a","name":"Tin Moth","triage":"must","fixes":[{"name":"Tin Moth","way":"swap","likelySec":3,"badSec":3,"hands":["weld"],"station":"bench","where":"in","stock":[{"stock":"0d46107d-cb46-5025-bf09-70f6640c3e11","count":3}],"touches":["weapon"],"lockout":true,"packOut":true,"limits":"limits","worksPct":3}],"damages":["17b9d384-ce8b-560f-a4c9-5d955cc56500"],"template":"eddc15f4-688e-5e70-bf4e-6c8c61b2c903","after":["ef619680-f043-5897-92c9-8f9143810ea0"],"followUpOf":"ef619680-f043-5897-92c9-8f9143810ea0","chosen":3,"assigned":["7637d109-7b67-5b1a-800f-cdcd51df429c"],"state":"running","heldFor":"part","heldText":"held text","part":{"at":"2026-05-09T14:02:31.500Z","minutes":3},"stints":[{"from":"2026-05-09T14:02:31.500Z","to":"2026-05-09T14:02:31.500Z","by":"7637d109-7b67-5b1a-800f-cdcd51df429c","held":"part","endedBy":"7637d109-7b67-5b1a-800f-cdcd51df429c","late":"2026-05-09T14:02:31.500Z","fix":3,"station":"b38fedad-922e-59da-93bf-5ff5ecf70f98"}],"started":"2026-05-09T14:02:31.500Z","finishedBy":"7637d109-7b67-5b1a-800f-cdcd51df429c","finishedAt":"2026-05-09T14:02:31.500Z","closedAt":"2026-05-09T14:02:31.500Z","reinspected":{"by":"7637d109-7b67-5b1a-800f-cdcd51df429c","at":"2026-05-09T14:02:31.500Z"},"loosened":[{"what":"what","reason":"reason","by":"7637d109-7b67-5b1a-800f-cdcd51df429c","at":"2026-05-09T14:02:31.500Z","setting":"setting","until":"2026-05-09T14:02:31.500Z","hurt":"f63e3b14-334d-50e6-9a81-16e1fb973c8a"}],"acceptor":"7637d109-7b67-5b1a-800f-cdcd51df429c","reason":"reason","by":"7637d109-7b67-5b1a-800f-cdcd51df429c","at":"2026-05-09T14:02:31.500Z"};

/** @satisfies {import('../../frontend/core/wire.d.ts').Nouns["sheet"]} */
export const nounSheet = {"id":"49b09ff9-c440-599c-b445-6dadf1cb4b87","v":42,"number":3,"list":"make-safe","version":3,"robot":"f63e3b14-334d-50e6-9a81-16e1fb973c8a","state":"open","openedAt":"2026-05-09T14:02:31.500Z","endedAt":"2026-05-09T14:02:31.500Z","lines":[{"id":"019e0d4f-5c8c-7b2a-9d31-6f1f0a2b3c4d","part":"part","kind":"number","ask":"ask","touch":"touch","say":"say","not":"not","notFitted":true,"verifies":true,"covers":["weapon"],"energy":"weapon-power","pack":"d724cd33-22db-5334-a08d-1243008299dd","unit":"unit","least":2.5,"most":2.5,"choices":["choices"]}],"answers":[{"line":"line","said":"done","number":2.5,"place":"6bb78f05-34ae-585c-9ae4-f7fe5db9a632","pack":"d724cd33-22db-5334-a08d-1243008299dd","told":"7637d109-7b67-5b1a-800f-cdcd51df429c","choice":"choice","by":"7637d109-7b67-5b1a-800f-cdcd51df429c","on":"7637d109-7b67-5b1a-800f-cdcd51df429c","at":"2026-05-09T14:02:31.500Z","sure":true,"standing":true,"paper":true,"enteredAt":"2026-05-09T14:02:31.500Z","record":true}]};

/** @satisfies {import('../../frontend/core/wire.d.ts').Nouns["tag"]} */
export const nounTag = {"id":"6f72fdfa-6efc-538a-a653-ab81e441d562","v":42,"robot":"f63e3b14-334d-50e6-9a81-16e1fb973c8a","person":"7637d109-7b67-5b1a-800f-cdcd51df429c","isolator":"isolator","at":"2026-05-09T14:02:31.500Z"};

/** @satisfies {import('../../frontend/core/wire.d.ts').Nouns["hands"]} */
export const nounHands = {"id":"a542f0b4-79ef-5040-b886-d858a4feb9c4","v":42,"robot":"f63e3b14-334d-50e6-9a81-16e1fb973c8a","person":"7637d109-7b67-5b1a-800f-cdcd51df429c","at":"2026-05-09T14:02:31.500Z"};

/** @satisfies {import('../../frontend/core/wire.d.ts').Nouns["note"]} */
export const nounNote = {"id":"917dfe43-04aa-5b89-82b8-80c11aa2a36b","v":42,"about":"robot/f63e3b14-334d-50e6-9a81-16e1fb973c8a","text":"blade is bent","by":"7637d109-7b67-5b1a-800f-cdcd51df429c","at":"2026-05-09T14:02:31.500Z","held":true,"settledBy":"7637d109-7b67-5b1a-800f-cdcd51df429c","settledAt":"2026-05-09T14:02:31.500Z"};

/** @satisfies {import('../../frontend/core/wire.d.ts').Nouns["notice"]} */
export const nounNotice = {"id":"bd89f7bd-1423-52b6-a7b9-e41b45a803e8","v":42,"person":"7637d109-7b67-5b1a-800f-cdcd51df429c","robot":"f63e3b14-334d-50e6-9a81-16e1fb973c8a","lookedWhere":"looked where","calledHow":"called how","calledAt":"2026-05-09T14:02:31.500Z","checkedBy":"7637d109-7b67-5b1a-800f-cdcd51df429c","reason":"reason","asked":true,"by":"7637d109-7b67-5b1a-800f-cdcd51df429c","second":"7637d109-7b67-5b1a-800f-cdcd51df429c","at":"2026-05-09T14:02:31.500Z","taken":"2026-05-09T14:02:31.500Z"};

/** @satisfies {import('../../frontend/core/wire.d.ts').Nouns["emergency"]} */
export const nounEmergency = {"id":"b702df04-71fb-5572-92ac-6a90a002560c","v":42,"robot":"f63e3b14-334d-50e6-9a81-16e1fb973c8a","place":"6bb78f05-34ae-585c-9ae4-f7fe5db9a632","stood":"6bb78f05-34ae-585c-9ae4-f7fe5db9a632","what":"what","by":"7637d109-7b67-5b1a-800f-cdcd51df429c","at":"2026-05-09T14:02:31.500Z","endedBy":"7637d109-7b67-5b1a-800f-cdcd51df429c","endedAt":"2026-05-09T14:02:31.500Z","how":"how"};

/** @satisfies {import('../../frontend/core/wire.d.ts').Nouns["mark"]} */
export const nounMark = {"id":"1abf1c5a-ec33-5397-b454-c65d9b391150","v":42,"takenBy":"7637d109-7b67-5b1a-800f-cdcd51df429c","takenAt":"2026-05-09T14:02:31.500Z","shelvedBy":"7637d109-7b67-5b1a-800f-cdcd51df429c","shelvedAt":"2026-05-09T14:02:31.500Z","shelvedUntil":"2026-05-09T14:02:31.500Z","reason":"reason"};

/** @satisfies {import('../../frontend/core/wire.d.ts').Nouns["wording"]} */
export const nounWording = {"list":"make-safe","v":42,"version":3,"lines":[{"id":"019e0d4f-5c8c-7b2a-9d31-6f1f0a2b3c4d","ask":"ask","touch":"touch","say":"say","not":"not","part":"part","kind":"number","notFitted":true,"covers":["weapon"],"unit":"unit","least":2.5,"most":2.5,"choices":["choices"]}],"out":["out"],"by":"7637d109-7b67-5b1a-800f-cdcd51df429c","at":"2026-05-09T14:02:31.500Z"};

/** @satisfies {import('../../frontend/core/wire.d.ts').Nouns["follow"]} */
export const nounFollow = {"v":42,"by":"board","person":"7637d109-7b67-5b1a-800f-cdcd51df429c","at":"2026-05-09T14:02:31.500Z","tasks":[{"job":"ef619680-f043-5897-92c9-8f9143810ea0","robot":"f63e3b14-334d-50e6-9a81-16e1fb973c8a","off":true,"people":["7637d109-7b67-5b1a-800f-cdcd51df429c"],"fix":3,"startAt":"2026-05-09T14:02:31.500Z","endAt":"2026-05-09T14:02:31.500Z","was":{"off":true,"people":["7637d109-7b67-5b1a-800f-cdcd51df429c"],"fix":3,"startAt":"2026-05-09T14:02:31.500Z"}}],"charges":[{"pack":"d724cd33-22db-5334-a08d-1243008299dd","robot":"f63e3b14-334d-50e6-9a81-16e1fb973c8a","channel":"a8d34c0f-b83f-52c0-b5ef-7a4423a614c4","amps":2.5,"startAt":"2026-05-09T14:02:31.500Z","endAt":"2026-05-09T14:02:31.500Z","was":{"robot":"f63e3b14-334d-50e6-9a81-16e1fb973c8a","channel":"a8d34c0f-b83f-52c0-b5ef-7a4423a614c4","amps":2.5,"startAt":"2026-05-09T14:02:31.500Z"}}],"moved":["ef619680-f043-5897-92c9-8f9143810ea0"]};

/** @satisfies {import('../../frontend/core/wire.d.ts').Nouns["learn"]} */
export const nounLearn = {"kind":"eddc15f4-688e-5e70-bf4e-6c8c61b2c903","v":42,"on":true,"by":"7637d109-7b67-5b1a-800f-cdcd51df429c","at":"2026-05-09T14:02:31.500Z"};

/** @satisfies {import('../../frontend/core/wire.d.ts').Nouns["foretold"]} */
export const nounForetold = {"fight":"0c93aec5-25ab-5974-96b0-c0c890474e76","v":42,"robot":"f63e3b14-334d-50e6-9a81-16e1fb973c8a","ready":3,"at":"2026-05-09T14:02:31.500Z","callAt":"2026-05-09T14:02:31.500Z","judged":"2026-05-09T14:02:31.500Z","met":true};

/** @satisfies {import('../../frontend/core/wire.d.ts').Nouns["part"]} */
export const nounPart = {"id":"9a7bf502-2530-5b17-97b8-33da910e0c93","v":42,"robot":"f63e3b14-334d-50e6-9a81-16e1fb973c8a","name":"Tin Moth","assembly":"assembly","material":"material","massGrams":2.5,"materialListCents":3,"materialPaidCents":3,"machiningListCents":3,"machiningPaidCents":3,"ownSec":3,"leadDays":3,"stock":"0d46107d-cb46-5025-bf09-70f6640c3e11","offSec":3,"offBadSec":3,"bendMmPer100":2.5,"first":[{"parts":["9a7bf502-2530-5b17-97b8-33da910e0c93"]}],"next":["9a7bf502-2530-5b17-97b8-33da910e0c93"],"serves":[{"function":"function","share":3}],"retired":true,"bends":[{"gapMm":2.5,"overMm":2.5,"fight":"0c93aec5-25ab-5974-96b0-c0c890474e76","by":"7637d109-7b67-5b1a-800f-cdcd51df429c","at":"2026-05-09T14:02:31.500Z"}]};

/** @satisfies {import('../../frontend/core/wire.d.ts').Nouns["joint"]} */
export const nounJoint = {"id":"cf985d6b-656b-50eb-9e5d-dd505c382e83","v":42,"robot":"f63e3b14-334d-50e6-9a81-16e1fb973c8a","name":"Tin Moth","parts":["9a7bf502-2530-5b17-97b8-33da910e0c93"],"fastening":"fastening","count":3,"tool":"tool","offSec":3,"offBadSec":3,"retired":true};

/** @satisfies {import('../../frontend/core/wire.d.ts').Nouns["module"]} */
export const nounModule = {"id":"c48f0e7c-304a-5836-9881-5fe0ebf6a878","v":42,"robot":"f63e3b14-334d-50e6-9a81-16e1fb973c8a","slot":"slot","name":"Tin Moth","massGrams":2.5,"swapSec":3,"swapBadSec":3,"lasts":3,"stock":"0d46107d-cb46-5025-bf09-70f6640c3e11","worn":3,"retired":true};

/** @satisfies {import('../../frontend/core/wire.d.ts').Nouns["setup"]} */
export const nounSetup = {"id":"a254c1f6-edf4-527e-9ac5-f38504831dbb","v":42,"robot":"f63e3b14-334d-50e6-9a81-16e1fb973c8a","name":"Tin Moth","modules":["c48f0e7c-304a-5836-9881-5fe0ebf6a878"],"declared":true,"against":["against"],"notes":"notes","notNeeded":["not needed"],"retired":true};

/** @satisfies {import('../../frontend/core/wire.d.ts').Nouns["construction"]} */
export const nounConstruction = {"id":"bba144be-e773-52fb-87f6-81d7d9cd1702","v":42,"robot":"f63e3b14-334d-50e6-9a81-16e1fb973c8a","name":"Tin Moth","built":true,"guessed":true,"massGrams":2.5,"listCents":3,"mends":[{"group":"group","parts":["parts"],"accessSec":3,"accessBadSec":3,"joints":3,"name":"Tin Moth","from":3,"each":true,"likelySec":3,"badSec":3,"costCents":3}],"notes":"notes","retired":true};

/** @satisfies {import('../../frontend/core/wire.d.ts').Nouns["fit"]} */
export const nounFit = {"robot":"f63e3b14-334d-50e6-9a81-16e1fb973c8a","v":42,"setup":"a254c1f6-edf4-527e-9ac5-f38504831dbb","modules":["c48f0e7c-304a-5836-9881-5fe0ebf6a878"],"by":"7637d109-7b67-5b1a-800f-cdcd51df429c","at":"2026-05-09T14:02:31.500Z","weighed":{"grams":2.5,"scale":"scale","stepGrams":2.5,"modules":["c48f0e7c-304a-5836-9881-5fe0ebf6a878"],"packs":["d724cd33-22db-5334-a08d-1243008299dd"],"sure":true,"by":"7637d109-7b67-5b1a-800f-cdcd51df429c","at":"2026-05-09T14:02:31.500Z"}};

/** @satisfies {import('../../frontend/core/wire.d.ts').Nouns["clock"]} */
export const nounClock = {"v":42,"shiftSec":3,"bySec":3,"by":"7637d109-7b67-5b1a-800f-cdcd51df429c","at":"2026-05-09T14:02:31.500Z"};

/** @satisfies {import('../../frontend/core/wire.d.ts').Nouns["call"]} */
export const derivedCall = {"robot":"f63e3b14-334d-50e6-9a81-16e1fb973c8a","fight":"0c93aec5-25ab-5974-96b0-c0c890474e76","arena":"main","number":3,"opponent":"opponent","if":"won","startAt":{"early":"2026-05-09T14:02:31.500Z","median":"2026-05-09T14:02:31.500Z","late":"2026-05-09T14:02:31.500Z"},"callAt":{"early":"2026-05-09T14:02:31.500Z","median":"2026-05-09T14:02:31.500Z","late":"2026-05-09T14:02:31.500Z"},"callNow":true,"onNow":true,"handsOnSec":3,"needSec":3,"readyAt":"2026-05-09T14:02:31.500Z","readyBadAt":"2026-05-09T14:02:31.500Z","flag":"tight","cause":{"kind":"station","text":"blade is bent","job":3},"uninspected":true,"shortSec":3,"branches":[{"fight":"0c93aec5-25ab-5974-96b0-c0c890474e76","if":"won","arena":"main","number":3,"opponent":"opponent","callAt":{"early":"2026-05-09T14:02:31.500Z","median":"2026-05-09T14:02:31.500Z","late":"2026-05-09T14:02:31.500Z"},"handsOnSec":3,"readyAt":"2026-05-09T14:02:31.500Z","shortSec":3,"flag":"tight"}],"postpone":{"sec":3,"may":true,"why":"why","granted":"2026-05-09T14:02:31.500Z"}};

/** @satisfies {import('../../frontend/core/wire.d.ts').Nouns["chance"]} */
export const derivedChance = {"robot":"f63e3b14-334d-50e6-9a81-16e1fb973c8a","fight":"0c93aec5-25ab-5974-96b0-c0c890474e76","ready":3,"of":3,"cause":{"kind":"station","text":"blade is bent","job":3},"uninspected":true,"needLowSec":3,"needHighSec":3};

/** @satisfies {import('../../frontend/core/wire.d.ts').Nouns["leaveoff"]} */
export const derivedLeaveoff = {"robot":"f63e3b14-334d-50e6-9a81-16e1fb973c8a","fight":"0c93aec5-25ab-5974-96b0-c0c890474e76","ready":3,"list":[{"rank":3,"text":"blade is bent","then":3,"gain":3,"err":3,"others":[{"robot":"f63e3b14-334d-50e6-9a81-16e1fb973c8a","ready":3,"then":3}],"do":[{"do":"note.add","with":{"text":"blade is bent"}}]}]};

/** @satisfies {import('../../frontend/core/wire.d.ts').Nouns["lane"]} */
export const derivedLane = {"robot":"f63e3b14-334d-50e6-9a81-16e1fb973c8a","bars":[{"job":"ef619680-f043-5897-92c9-8f9143810ea0","number":3,"name":"Tin Moth","who":["who"],"state":"running","startAt":"2026-05-09T14:02:31.500Z","endAt":"2026-05-09T14:02:31.500Z","badAt":"2026-05-09T14:02:31.500Z","late":true}]};

/** @satisfies {import('../../frontend/core/wire.d.ts').Nouns["plan"]} */
export const derivedPlan = {"job":"ef619680-f043-5897-92c9-8f9143810ea0","fix":3,"startAt":"2026-05-09T14:02:31.500Z","endAt":"2026-05-09T14:02:31.500Z","badAt":"2026-05-09T14:02:31.500Z","people":["7637d109-7b67-5b1a-800f-cdcd51df429c"],"station":"station","flag":"tight","cause":{"kind":"station","text":"blade is bent","job":3},"owes":[{"says":"says","sheet":"49b09ff9-c440-599c-b445-6dadf1cb4b87","line":"line","pack":"d724cd33-22db-5334-a08d-1243008299dd","looks":["7637d109-7b67-5b1a-800f-cdcd51df429c"]}]};

/** @satisfies {import('../../frontend/core/wire.d.ts').Nouns["todo"]} */
export const derivedTodo = {"person":"7637d109-7b67-5b1a-800f-cdcd51df429c","act":"start","robot":"f63e3b14-334d-50e6-9a81-16e1fb973c8a","job":"ef619680-f043-5897-92c9-8f9143810ea0","fix":3,"sheet":"49b09ff9-c440-599c-b445-6dadf1cb4b87","line":"line","pack":"d724cd33-22db-5334-a08d-1243008299dd","damage":"17b9d384-ce8b-560f-a4c9-5d955cc56500","work":"work","taken":true,"title":"title","where":"where","why":"why","until":"2026-05-09T14:02:31.500Z","likelySec":3,"badSec":3,"told":"told"};

/** @satisfies {import('../../frontend/core/wire.d.ts').Nouns["strip"]} */
export const derivedStrip = {"robot":"f63e3b14-334d-50e6-9a81-16e1fb973c8a","phase":"inspect","sheet":"49b09ff9-c440-599c-b445-6dadf1cb4b87","line":3,"lines":3,"ask":"ask","who":"who","said":"said","rechecks":[{"sheet":"49b09ff9-c440-599c-b445-6dadf1cb4b87","line":"line","ask":"ask","due":"2026-05-09T14:02:31.500Z"}],"rests":[{"sheet":"49b09ff9-c440-599c-b445-6dadf1cb4b87","line":"line","at":"2026-05-09T14:02:31.500Z","sec":3}],"mayOwe":true,"unproven":true,"damage":[{"damage":"17b9d384-ce8b-560f-a4c9-5d955cc56500","grade":"G2","says":"says","asks":"look"}]};

/** @satisfies {import('../../frontend/core/wire.d.ts').Nouns["packview"]} */
export const derivedPackview = {"pack":"d724cd33-22db-5334-a08d-1243008299dd","word":"word","for":"f63e3b14-334d-50e6-9a81-16e1fb973c8a","earlyAt":"2026-05-09T14:02:31.500Z","readyAt":"2026-05-09T14:02:31.500Z","badAt":"2026-05-09T14:02:31.500Z","coolAt":"2026-05-09T14:02:31.500Z","coolBadAt":"2026-05-09T14:02:31.500Z","takesSec":3,"takesBadSec":3,"readAt":"2026-05-09T14:02:31.500Z","again":"again","caution":"caution"};

/** @satisfies {import('../../frontend/core/wire.d.ts').Nouns["packhealth"]} */
export const derivedPackhealth = {"pack":"d724cd33-22db-5334-a08d-1243008299dd","wear":"worn","ratedAh":2.5,"capacity":[{"at":"2026-05-09T14:02:31.500Z","value":2.5,"plusMinus":2.5}],"ohms":[{"at":"2026-05-09T14:02:31.500Z","value":2.5,"plusMinus":2.5}],"spread":[{"at":"2026-05-09T14:02:31.500Z","value":2.5,"plusMinus":2.5}],"share":[{"at":"2026-05-09T14:02:31.500Z","value":2.5,"plusMinus":2.5}],"chargeOhm":{"n":3,"value":2.5,"before":2.5},"coolMin":{"n":3,"value":2.5,"before":2.5}};

/** @satisfies {import('../../frontend/core/wire.d.ts').Nouns["fightenergy"]} */
export const derivedFightenergy = {"robot":"f63e3b14-334d-50e6-9a81-16e1fb973c8a","n":3,"wh":2.5,"lowWh":2.5,"highWh":2.5,"guessLowWh":2.5,"guessHighWh":2.5};

/** @satisfies {import('../../frontend/core/wire.d.ts').Nouns["channelview"]} */
export const derivedChannelview = {"channel":"a8d34c0f-b83f-52c0-b5ef-7a4423a614c4","bars":[{"pack":"d724cd33-22db-5334-a08d-1243008299dd","for":"f63e3b14-334d-50e6-9a81-16e1fb973c8a","running":true,"startAt":"2026-05-09T14:02:31.500Z","endAt":"2026-05-09T14:02:31.500Z","badAt":"2026-05-09T14:02:31.500Z","amps":2.5,"va":3,"neededAt":"2026-05-09T14:02:31.500Z","late":true}]};

/** @satisfies {import('../../frontend/core/wire.d.ts').Nouns["circuitview"]} */
export const derivedCircuitview = {"circuit":"00a21c20-876c-55c5-ba39-0b83baaab82c","budgetVA":3,"load":[{"at":"2026-05-09T14:02:31.500Z","va":3}],"over":true,"off":true};

/** @satisfies {import('../../frontend/core/wire.d.ts').Nouns["fightpacks"]} */
export const derivedFightpacks = {"fight":"0c93aec5-25ab-5974-96b0-c0c890474e76","robot":"f63e3b14-334d-50e6-9a81-16e1fb973c8a","if":"won","callAt":"2026-05-09T14:02:31.500Z","by":"2026-05-09T14:02:31.500Z","packs":[{"pack":"d724cd33-22db-5334-a08d-1243008299dd","readyAt":"2026-05-09T14:02:31.500Z","badAt":"2026-05-09T14:02:31.500Z","after":"0c93aec5-25ab-5974-96b0-c0c890474e76"}],"lacks":"lacks","late":true};

/** @satisfies {import('../../frontend/core/wire.d.ts').Nouns["alarm"]} */
export const derivedAlarm = {"class":"B","robot":"f63e3b14-334d-50e6-9a81-16e1fb973c8a","what":"what","act":"act","since":"2026-05-09T14:02:31.500Z","sheet":"49b09ff9-c440-599c-b445-6dadf1cb4b87","line":"line","count":3,"takenBy":"7637d109-7b67-5b1a-800f-cdcd51df429c","takenAt":"2026-05-09T14:02:31.500Z","shelvedBy":"7637d109-7b67-5b1a-800f-cdcd51df429c","shelvedUntil":"2026-05-09T14:02:31.500Z","stale":true};

/** @satisfies {import('../../frontend/core/wire.d.ts').Nouns["relaxed"]} */
export const derivedRelaxed = {"list":["list"]};

/** @satisfies {import('../../frontend/core/wire.d.ts').Nouns["owed"]} */
export const derivedOwed = {"list":[{"what":"what","act":"act","damage":"17b9d384-ce8b-560f-a4c9-5d955cc56500","pack":"d724cd33-22db-5334-a08d-1243008299dd","robot":"f63e3b14-334d-50e6-9a81-16e1fb973c8a"}]};

/** @satisfies {import('../../frontend/core/wire.d.ts').Nouns["first"]} */
export const derivedFirst = {"steps":[{"lack":"robots","done":true}],"next":"robots","unsaid":["f63e3b14-334d-50e6-9a81-16e1fb973c8a"],"lacks":["lacks"],"noShelf":true,"arena":"main","numbers":[3]};

/** @satisfies {import('../../frontend/core/wire.d.ts').Nouns["works"]} */
export const derivedWorks = {"robot":"f63e3b14-334d-50e6-9a81-16e1fb973c8a","setup":"setup","functions":[{"name":"Tin Moth","word":"degraded","pct":3,"unsaid":true,"why":["why"]}],"other":["other"],"lookNext":[{"part":"9a7bf502-2530-5b17-97b8-33da910e0c93","name":"Tin Moth","from":"from"}]};

/** @satisfies {import('../../frontend/core/wire.d.ts').Nouns["cost"]} */
export const derivedCost = {"robot":"f63e3b14-334d-50e6-9a81-16e1fb973c8a","hits":3,"listCents":3,"paidCents":3};

/** @satisfies {import('../../frontend/core/wire.d.ts').Nouns["setups"]} */
export const derivedSetups = {"robot":"f63e3b14-334d-50e6-9a81-16e1fb973c8a","limit":"limit","on":"a254c1f6-edf4-527e-9ac5-f38504831dbb","modules":["c48f0e7c-304a-5836-9881-5fe0ebf6a878"],"now":{"grams":2.5,"word":"over","text":"blade is bent","basis":"scale","overPct":2.5},"weighed":{"grams":2.5,"scale":"scale","stepGrams":2.5,"by":"by","at":"2026-05-09T14:02:31.500Z","stale":"stale"},"list":[{"setup":"a254c1f6-edf4-527e-9ac5-f38504831dbb","name":"Tin Moth","declared":true,"weight":{"grams":2.5,"word":"over","text":"blade is bent","basis":"scale","overPct":2.5},"likelySec":3,"badSec":3,"untimed":3,"modules":[{"module":"c48f0e7c-304a-5836-9881-5fe0ebf6a878","slot":"slot","name":"Tin Moth","grams":2.5,"on":true,"left":3}],"against":["against"],"notes":"notes","notNeeded":["not needed"],"record":[{"kind":"kind","n":3,"won":3,"lost":3,"drawn":3}]}],"heaviest":"a254c1f6-edf4-527e-9ac5-f38504831dbb","differPct":2.5,"warns":["warns"]};

/** @satisfies {import('../../frontend/core/wire.d.ts').Nouns["access"]} */
export const derivedAccess = {"robot":"f63e3b14-334d-50e6-9a81-16e1fb973c8a","work":{"off":["off"],"joints":3,"fasteners":3,"tools":["tools"],"likelySec":3,"badSec":3,"untimed":3,"rough":true},"parts":[{"part":"9a7bf502-2530-5b17-97b8-33da910e0c93","way":{"off":["off"],"joints":3,"fasteners":3,"tools":["tools"],"likelySec":3,"badSec":3,"untimed":3,"rough":true}}],"alone":[{"part":"9a7bf502-2530-5b17-97b8-33da910e0c93","function":"function"}]};

/** @satisfies {import('../../frontend/core/wire.d.ts').Nouns["bends"]} */
export const derivedBends = {"robot":"f63e3b14-334d-50e6-9a81-16e1fb973c8a","list":[{"part":"9a7bf502-2530-5b17-97b8-33da910e0c93","said":3,"says":"says","grade":"G2"}]};

/** @satisfies {import('../../frontend/core/wire.d.ts').Nouns["learned"]} */
export const derivedLearned = {"kind":"eddc15f4-688e-5e70-bf4e-6c8c61b2c903","name":"Tin Moth","n":3,"open":3,"likelySec":3,"badSec":3,"learnedLikelySec":3,"learnedBadSec":3,"on":true};

/** @satisfies {import('../../frontend/core/wire.d.ts').Nouns["scarce"]} */
export const derivedScarce = {"stock":"0d46107d-cb46-5025-bf09-70f6640c3e11","name":"Tin Moth","left":3,"jobs":[{"job":"ef619680-f043-5897-92c9-8f9143810ea0","robot":"f63e3b14-334d-50e6-9a81-16e1fb973c8a","takes":true,"longerSec":3}],"fights":["0c93aec5-25ab-5974-96b0-c0c890474e76"],"used":3,"fought":3,"text":"blade is bent"};

/** @satisfies {import('../../frontend/core/wire.d.ts').Nouns["absent"]} */
export const derivedAbsent = {"person":"7637d109-7b67-5b1a-800f-cdcd51df429c","at":[{"from":"2026-05-09T14:02:31.500Z","to":"2026-05-09T14:02:31.500Z","what":"what"}]};

/** @satisfies {import('../../frontend/core/wire.d.ts').Nouns["calibration"]} */
export const derivedCalibration = {"n":3,"said":[{"of10":3,"n":3,"met":3}],"brier":2.5};

/** @satisfies {import('../../frontend/core/wire.d.ts').Nouns["tests"]} */
export const derivedTests = {"n":3,"failed":3,"saidOf100":3,"of100":3};

/** @satisfies {import('../../frontend/core/wire.d.ts').Nouns["copies"]} */
export const derivedCopies = {"folders":[{"path":"path","at":"2026-05-09T14:02:31.500Z","current":true,"failing":"failing","since":"2026-05-09T14:02:31.500Z","ownDisk":true}],"laptops":[{"address":"address","at":"2026-05-09T14:02:31.500Z","current":true,"failing":"failing","since":"2026-05-09T14:02:31.500Z"}]};

/** answers GET /api/debrief. @satisfies {import('../../frontend/core/wire.d.ts').Debrief} */
export const httpDebrief = {"event":"event","currency":"currency","from":"2026-05-09T14:02:31.500Z","to":"2026-05-09T14:02:31.500Z","lines":3,"fought":3,"all":{"robot":"f63e3b14-334d-50e6-9a81-16e1fb973c8a","name":"Tin Moth","headline":"headline","bill":{"robot":"f63e3b14-334d-50e6-9a81-16e1fb973c8a","fight":"0c93aec5-25ab-5974-96b0-c0c890474e76","hit":3,"name":"Tin Moth","at":"2026-05-09T14:02:31.500Z","materialListCents":3,"materialPaidCents":3,"machiningListCents":3,"machiningPaidCents":3,"ownSec":3,"listCents":3,"paidCents":3,"listShare":2.5,"paidShare":2.5,"leadDays":3,"sec":{"wait-part":3},"workSec":3,"waitSec":3,"handSec":3,"used":[{"name":"Tin Moth","pieces":3,"listCents":3,"paidCents":3}],"leftOff":["left off"],"damages":3,"foundLater":3,"quiet":true},"figures":[{"name":"Tin Moth","value":2.5,"unit":"unit","n":3,"of":"of","trap":"trap"}],"byMinutes":[{"name":"Tin Moth","amount":2.5,"cumulative":2.5,"n":3}],"byMoney":[{"name":"Tin Moth","amount":2.5,"cumulative":2.5,"n":3}],"byRepeat":[{"name":"Tin Moth","amount":2.5,"cumulative":2.5,"n":3}],"byJoint":[{"name":"Tin Moth","amount":2.5,"cumulative":2.5,"n":3}],"creeps":[{"name":"Tin Moth","says":"says","mmPer100":2.5,"past":true}],"jobs":[{"job":"ef619680-f043-5897-92c9-8f9143810ea0","number":3,"name":"Tin Moth","likelySec":3,"badSec":3,"actualSec":3,"open":true}],"called":"called"},"robots":[{"robot":"f63e3b14-334d-50e6-9a81-16e1fb973c8a","name":"Tin Moth","headline":"headline","bill":{"robot":"f63e3b14-334d-50e6-9a81-16e1fb973c8a","fight":"0c93aec5-25ab-5974-96b0-c0c890474e76","hit":3,"name":"Tin Moth","at":"2026-05-09T14:02:31.500Z","materialListCents":3,"materialPaidCents":3,"machiningListCents":3,"machiningPaidCents":3,"ownSec":3,"listCents":3,"paidCents":3,"listShare":2.5,"paidShare":2.5,"leadDays":3,"sec":{"wait-part":3},"workSec":3,"waitSec":3,"handSec":3,"used":[{"name":"Tin Moth","pieces":3,"listCents":3,"paidCents":3}],"leftOff":["left off"],"damages":3,"foundLater":3,"quiet":true},"figures":[{"name":"Tin Moth","value":2.5,"unit":"unit","n":3,"of":"of","trap":"trap"}],"byMinutes":[{"name":"Tin Moth","amount":2.5,"cumulative":2.5,"n":3}],"byMoney":[{"name":"Tin Moth","amount":2.5,"cumulative":2.5,"n":3}],"byRepeat":[{"name":"Tin Moth","amount":2.5,"cumulative":2.5,"n":3}],"byJoint":[{"name":"Tin Moth","amount":2.5,"cumulative":2.5,"n":3}],"creeps":[{"name":"Tin Moth","says":"says","mmPer100":2.5,"past":true}],"jobs":[{"job":"ef619680-f043-5897-92c9-8f9143810ea0","number":3,"name":"Tin Moth","likelySec":3,"badSec":3,"actualSec":3,"open":true}],"called":"called"}],"fights":[{"robot":"f63e3b14-334d-50e6-9a81-16e1fb973c8a","fight":"0c93aec5-25ab-5974-96b0-c0c890474e76","hit":3,"name":"Tin Moth","at":"2026-05-09T14:02:31.500Z","materialListCents":3,"materialPaidCents":3,"machiningListCents":3,"machiningPaidCents":3,"ownSec":3,"listCents":3,"paidCents":3,"listShare":2.5,"paidShare":2.5,"leadDays":3,"sec":{"wait-part":3},"workSec":3,"waitSec":3,"handSec":3,"used":[{"name":"Tin Moth","pieces":3,"listCents":3,"paidCents":3}],"leftOff":["left off"],"damages":3,"foundLater":3,"quiet":true}],"hits":[{"robot":"f63e3b14-334d-50e6-9a81-16e1fb973c8a","fight":"0c93aec5-25ab-5974-96b0-c0c890474e76","hit":3,"name":"Tin Moth","at":"2026-05-09T14:02:31.500Z","materialListCents":3,"materialPaidCents":3,"machiningListCents":3,"machiningPaidCents":3,"ownSec":3,"listCents":3,"paidCents":3,"listShare":2.5,"paidShare":2.5,"leadDays":3,"sec":{"wait-part":3},"workSec":3,"waitSec":3,"handSec":3,"used":[{"name":"Tin Moth","pieces":3,"listCents":3,"paidCents":3}],"leftOff":["left off"],"damages":3,"foundLater":3,"quiet":true}],"compared":[{"robot":"f63e3b14-334d-50e6-9a81-16e1fb973c8a","name":"Tin Moth","fights":3,"damaging":3,"members":3,"replays":3,"moves":2.5,"built":{"name":"Tin Moth","guessed":true,"massGrams":3,"costCents":3,"joints":3,"sec":{"p10":2.5,"p50":2.5,"p90":2.5,"mean":2.5},"moneyCents":{"p10":2.5,"p50":2.5,"p90":2.5,"mean":2.5},"missed":2.5},"other":{"name":"Tin Moth","guessed":true,"massGrams":3,"costCents":3,"joints":3,"sec":{"p10":2.5,"p50":2.5,"p90":2.5,"mean":2.5},"moneyCents":{"p10":2.5,"p50":2.5,"p90":2.5,"mean":2.5},"missed":2.5},"otherSlower":2.5,"otherMisses":2.5,"sameMisses":2.5,"otherDearer":2.5,"otherCheaper":2.5,"more":{"sec":{"p10":2.5,"p50":2.5,"p90":2.5,"mean":2.5},"moneyCents":{"p10":2.5,"p50":2.5,"p90":2.5,"mean":2.5},"slower":2.5,"dearer":2.5},"turn":{"step":"step","priceCents":2.5,"nowCents":2.5,"lostPerFight":2.5,"lossPerFight":2.5,"moneyLossPerFight":2.5},"outside":["outside"],"verdict":"verdict","decided":true,"assumes":"assumes","gap":"gap","condition":"condition"}],"calls":[{"robot":"f63e3b14-334d-50e6-9a81-16e1fb973c8a","fight":"0c93aec5-25ab-5974-96b0-c0c890474e76","name":"Tin Moth","at":"2026-05-09T14:02:31.500Z","of10":3,"met":true}],"chances":{"n":3,"brier":2.5,"always":2.5},"bring":{"fights":3,"massGrams":3,"moneyCents":3,"rows":[{"stock":"0d46107d-cb46-5025-bf09-70f6640c3e11","name":"Tin Moth","taken":3,"hits":3,"n":3,"guess":2.5,"perFight":2.5,"miss":2.5,"have":3,"exact":3,"greedy":3,"massGrams":3,"listCents":3,"last":{"now":2.5,"keep":2.5}}],"exact":{"massGrams":3,"listCents":3,"chance":2.5},"greedy":{"massGrams":3,"listCents":3,"chance":2.5},"have":{"massGrams":3,"listCents":3,"chance":2.5},"noneChance":2.5,"lastKilogram":2.5,"order":[{"name":"Tin Moth","chance":2.5}]},"after":{"shop":[{"name":"Tin Moth","pieces":3,"listCents":3,"leadDays":3,"have":3}],"loans":[{"name":"Tin Moth","from":"from","left":3,"taken":3}],"packs":[{"pack":"d724cd33-22db-5334-a08d-1243008299dd","name":"Tin Moth","do":"note.add"}]},"reads":["reads"]};

/** answers GET /api/review. @satisfies {import('../../frontend/core/wire.d.ts').Review} */
export const httpReview = {"at":"2026-05-09T14:02:31.500Z","of":42,"event":"event","turnarounds":[{"robot":"f63e3b14-334d-50e6-9a81-16e1fb973c8a","name":"Tin Moth","from":"2026-05-09T14:02:31.500Z","readyAt":"2026-05-09T14:02:31.500Z","readyBy":"ready by","to":"2026-05-09T14:02:31.500Z","fast":3,"overrides":3,"tags":3,"late":3,"paper":3,"uncovered":3,"alarms":3}],"whole":{"fast":3,"overrides":3,"tags":3,"late":3,"paper":3,"uncovered":3,"alarms":3},"fast":[{"robot":"f63e3b14-334d-50e6-9a81-16e1fb973c8a","name":"Tin Moth","list":"make-safe","lines":3,"sec":2.5,"readSec":2.5,"by":["by"],"at":"2026-05-09T14:02:31.500Z"}],"overrides":[{"robot":"f63e3b14-334d-50e6-9a81-16e1fb973c8a","name":"Tin Moth","owner":"owner","by":"by","second":"second","on":"on","reason":"reason","at":"2026-05-09T14:02:31.500Z","taken":"2026-05-09T14:02:31.500Z"}],"relaxed":[{"text":"blade is bent","from":"2026-05-09T14:02:31.500Z","to":"2026-05-09T14:02:31.500Z"}],"alarms":{"stepSec":3,"people":[{"who":"who","total":3,"most":3,"mostAt":"2026-05-09T14:02:31.500Z","mean":2.5}],"classes":[{"class":"class","count":3,"percent":3,"target":3}],"targets":{"mean":2.5,"flood":3}},"tags":[{"robot":"f63e3b14-334d-50e6-9a81-16e1fb973c8a","name":"Tin Moth","person":"person","on":"2026-05-09T14:02:31.500Z","off":"2026-05-09T14:02:31.500Z","quietSec":3,"override":true}],"late":[{"robot":"f63e3b14-334d-50e6-9a81-16e1fb973c8a","name":"Tin Moth","list":"make-safe","ask":"ask","by":"by","at":"2026-05-09T14:02:31.500Z","heard":"2026-05-09T14:02:31.500Z","paper":true}],"uncovered":[{"robot":"f63e3b14-334d-50e6-9a81-16e1fb973c8a","name":"Tin Moth","number":3,"job":"job","sec":3,"at":"2026-05-09T14:02:31.500Z","by":"by","when":"2026-05-09T14:02:31.500Z"}],"loosened":[{"robot":"f63e3b14-334d-50e6-9a81-16e1fb973c8a","name":"Tin Moth","number":3,"job":"job","what":"what","reason":"reason","by":"by","at":"2026-05-09T14:02:31.500Z","until":"2026-05-09T14:02:31.500Z"}],"marked":[{"robot":"f63e3b14-334d-50e6-9a81-16e1fb973c8a","name":"Tin Moth","list":"make-safe","ask":"ask","what":"what","by":"by","on":"on","at":"2026-05-09T14:02:31.500Z"}]};

/** team.load, by POST /admin/load. @satisfies {import('../../frontend/core/wire.d.ts').TeamLoad} */
export const httpLoad = {"event":{"name":"Tin Moth","offsetMin":3,"currency":"currency","activationOrder":["activation order"],"deactivationOrder":["deactivation order"],"spinDownSec":3,"leadFights":3,"leadSec":3,"restSec":3,"restFrom":"match-end","restTo":"call","postponeSec":3,"postponeFor":"team","fightMeanSec":3,"fightMeanWorth":3,"breaks":[{"from":"2026-05-09T14:02:31.500Z","to":"2026-05-09T14:02:31.500Z"}],"failsafeAt":["test-box"],"emergencyContact":"emergency contact","chargingPlaces":["6bb78f05-34ae-585c-9ae4-f7fe5db9a632"],"attendantMost":3,"tightBelow":3,"wontBelow":3,"repairerMaySign":true,"minorsDrive":true,"recheckSec":3,"loadIn":true,"hotWork":{"needed":true,"text":"blade is bent","by":"by","until":"2026-05-09T14:02:31.500Z"},"card":{"text":"blade is bent","approvedBy":"approved by"}},"places":[{"id":"6bb78f05-34ae-585c-9ae4-f7fe5db9a632","v":42,"name":"Tin Moth","kind":"bench","inSight":["6bb78f05-34ae-585c-9ae4-f7fe5db9a632"],"retired":true,"once":{"name":"Tin Moth","kind":"bench"},"loosened":[{"what":"what","reason":"reason","by":"7637d109-7b67-5b1a-800f-cdcd51df429c","at":"2026-05-09T14:02:31.500Z","setting":"setting","until":"2026-05-09T14:02:31.500Z","hurt":"f63e3b14-334d-50e6-9a81-16e1fb973c8a"}]}],"people":[{"id":"7637d109-7b67-5b1a-800f-cdcd51df429c","v":42,"name":"Tin Moth","role":"crew","skills":["weld"],"authorised":["weapon-power"],"minor":true,"guest":true,"signer":true,"from":"from","claimed":"2026-05-09T14:02:31.500Z","claimedOn":"7637d109-7b67-5b1a-800f-cdcd51df429c","retired":true,"briefedAt":"2026-05-09T14:02:31.500Z","briefedBy":"7637d109-7b67-5b1a-800f-cdcd51df429c","forgotten":{"by":"7637d109-7b67-5b1a-800f-cdcd51df429c","at":"2026-05-09T14:02:31.500Z","rev":42},"loosened":[{"what":"what","reason":"reason","by":"7637d109-7b67-5b1a-800f-cdcd51df429c","at":"2026-05-09T14:02:31.500Z","setting":"setting","until":"2026-05-09T14:02:31.500Z","hurt":"f63e3b14-334d-50e6-9a81-16e1fb973c8a"}]}],"robots":[{"id":"f63e3b14-334d-50e6-9a81-16e1fb973c8a","v":42,"name":"Tin Moth","number":3,"class":{"name":"Tin Moth","limit":2.5,"unit":"lb","ruleSet":"rule set","bonusPct":2.5,"bonus":"bonus","walkingGrams":2.5},"size":"light","energies":[{"kind":"weapon-power","isolator":"isolator","reach":"outside","moves":"moves","restSec":3}],"locks":["lock"],"lead":"7637d109-7b67-5b1a-800f-cdcd51df429c","driver":"7637d109-7b67-5b1a-800f-cdcd51df429c","hands":3,"beforeSec":3,"afterSec":3,"secondVerifier":true,"mainPacks":3,"weaponPacks":3,"weight":3,"withdrawn":true,"retired":true,"names":["names"],"once":{"energies":[{"kind":"weapon-power","isolator":"isolator","reach":"outside","moves":"moves","restSec":3}],"links":3,"locks":["lock"],"secondVerifier":true,"mainPacks":3,"weaponPacks":3,"limitGrams":2.5},"loosened":[{"what":"what","reason":"reason","by":"7637d109-7b67-5b1a-800f-cdcd51df429c","at":"2026-05-09T14:02:31.500Z","setting":"setting","until":"2026-05-09T14:02:31.500Z","hurt":"f63e3b14-334d-50e6-9a81-16e1fb973c8a"}]}],"stations":[{"id":"b38fedad-922e-59da-93bf-5ff5ecf70f98","v":42,"name":"Tin Moth","kind":"bench","count":3,"place":"6bb78f05-34ae-585c-9ae4-f7fe5db9a632","retired":true}],"stocks":[{"id":"0d46107d-cb46-5025-bf09-70f6640c3e11","v":42,"name":"Tin Moth","count":3,"where":"where","massGrams":3,"listCents":3,"paidCents":3,"leadDays":3,"lender":"lender","retired":true}],"circuits":[{"id":"00a21c20-876c-55c5-ba39-0b83baaab82c","v":42,"name":"Tin Moth","volts":2.5,"ratingAmps":2.5,"otherAmps":2.5,"saidBy":"said by","offAt":"2026-05-09T14:02:31.500Z","offBy":"7637d109-7b67-5b1a-800f-cdcd51df429c","retired":true}],"channels":[{"id":"a8d34c0f-b83f-52c0-b5ef-7a4423a614c4","v":42,"name":"Tin Moth","charger":"charger","ampsMost":2.5,"wattsMost":2.5,"chargerWatts":2.5,"cellsMost":3,"powerFactor":2.5,"circuit":"00a21c20-876c-55c5-ba39-0b83baaab82c","place":"6bb78f05-34ae-585c-9ae4-f7fe5db9a632","retired":true}],"packs":[{"id":"d724cd33-22db-5334-a08d-1243008299dd","v":42,"name":"Tin Moth","chemistry":"lipo","cells":3,"parallel":3,"capacityAh":2.5,"chargeAmpsMost":2.5,"fasterBy":"faster by","use":"main","massGrams":2.5,"fits":["f63e3b14-334d-50e6-9a81-16e1fb973c8a"],"state":"cooling","place":"6bb78f05-34ae-585c-9ae4-f7fe5db9a632","robot":"f63e3b14-334d-50e6-9a81-16e1fb973c8a","placedAt":"2026-05-09T14:02:31.500Z","perhaps":"6bb78f05-34ae-585c-9ae4-f7fe5db9a632","cameBack":true,"found":true,"unread":true,"powered":true,"reading":{"at":"2026-05-09T14:02:31.500Z","by":"7637d109-7b67-5b1a-800f-cdcd51df429c","cellVolts":[2.5],"cellsAt":"2026-05-09T14:02:31.500Z","tempC":2.5,"tempAt":"2026-05-09T14:02:31.500Z","airC":2.5,"milliOhm":2.5,"returnedAh":2.5,"chargeMin":2.5,"look":"fine","charged":true,"fought":"f63e3b14-334d-50e6-9a81-16e1fb973c8a","amps":2.5},"lost":true,"channel":"a8d34c0f-b83f-52c0-b5ef-7a4423a614c4","attendant":"7637d109-7b67-5b1a-800f-cdcd51df429c","attendAt":"2026-05-09T14:02:31.500Z","stayedAt":"2026-05-09T14:02:31.500Z","unsure":true,"unsureAt":"2026-05-09T14:02:31.500Z","heardLate":{"what":"what","by":"7637d109-7b67-5b1a-800f-cdcd51df429c","at":"2026-05-09T14:02:31.500Z","heard":"2026-05-09T14:02:31.500Z"},"away":{"robot":"f63e3b14-334d-50e6-9a81-16e1fb973c8a","at":"2026-05-09T14:02:31.500Z"},"amps":2.5,"stopped":"00a21c20-876c-55c5-ba39-0b83baaab82c","usedAt":"2026-05-09T14:02:31.500Z","fought":"f63e3b14-334d-50e6-9a81-16e1fb973c8a","chosenFor":"f63e3b14-334d-50e6-9a81-16e1fb973c8a","reweighAt":"2026-05-09T14:02:31.500Z","since":"2026-05-09T14:02:31.500Z","retired":true}],"templates":[{"id":"eddc15f4-688e-5e70-bf4e-6c8c61b2c903","v":42,"name":"Tin Moth","size":"light","triage":"must","fixes":[{"name":"Tin Moth","way":"swap","likelySec":3,"badSec":3,"hands":["weld"],"station":"bench","where":"in","stock":[{"stock":"0d46107d-cb46-5025-bf09-70f6640c3e11","count":3}],"touches":["weapon"],"lockout":true,"packOut":true,"limits":"limits","worksPct":3}],"retired":true,"once":{"must":true,"fixes":[{"name":"Tin Moth","way":"swap","likelySec":3,"badSec":3,"hands":["weld"],"station":"bench","where":"in","stock":[{"stock":"0d46107d-cb46-5025-bf09-70f6640c3e11","count":3}],"touches":["weapon"],"lockout":true,"packOut":true,"limits":"limits","worksPct":3}]},"loosened":[{"what":"what","reason":"reason","by":"7637d109-7b67-5b1a-800f-cdcd51df429c","at":"2026-05-09T14:02:31.500Z","setting":"setting","until":"2026-05-09T14:02:31.500Z","hurt":"f63e3b14-334d-50e6-9a81-16e1fb973c8a"}]}],"parts":[{"id":"9a7bf502-2530-5b17-97b8-33da910e0c93","v":42,"robot":"f63e3b14-334d-50e6-9a81-16e1fb973c8a","name":"Tin Moth","assembly":"assembly","material":"material","massGrams":2.5,"materialListCents":3,"materialPaidCents":3,"machiningListCents":3,"machiningPaidCents":3,"ownSec":3,"leadDays":3,"stock":"0d46107d-cb46-5025-bf09-70f6640c3e11","offSec":3,"offBadSec":3,"bendMmPer100":2.5,"first":[{"parts":["9a7bf502-2530-5b17-97b8-33da910e0c93"]}],"next":["9a7bf502-2530-5b17-97b8-33da910e0c93"],"serves":[{"function":"function","share":3}],"retired":true,"bends":[{"gapMm":2.5,"overMm":2.5,"fight":"0c93aec5-25ab-5974-96b0-c0c890474e76","by":"7637d109-7b67-5b1a-800f-cdcd51df429c","at":"2026-05-09T14:02:31.500Z"}]}],"joints":[{"id":"cf985d6b-656b-50eb-9e5d-dd505c382e83","v":42,"robot":"f63e3b14-334d-50e6-9a81-16e1fb973c8a","name":"Tin Moth","parts":["9a7bf502-2530-5b17-97b8-33da910e0c93"],"fastening":"fastening","count":3,"tool":"tool","offSec":3,"offBadSec":3,"retired":true}],"modules":[{"id":"c48f0e7c-304a-5836-9881-5fe0ebf6a878","v":42,"robot":"f63e3b14-334d-50e6-9a81-16e1fb973c8a","slot":"slot","name":"Tin Moth","massGrams":2.5,"swapSec":3,"swapBadSec":3,"lasts":3,"stock":"0d46107d-cb46-5025-bf09-70f6640c3e11","worn":3,"retired":true}],"setups":[{"id":"a254c1f6-edf4-527e-9ac5-f38504831dbb","v":42,"robot":"f63e3b14-334d-50e6-9a81-16e1fb973c8a","name":"Tin Moth","modules":["c48f0e7c-304a-5836-9881-5fe0ebf6a878"],"declared":true,"against":["against"],"notes":"notes","notNeeded":["not needed"],"retired":true}],"constructions":[{"id":"bba144be-e773-52fb-87f6-81d7d9cd1702","v":42,"robot":"f63e3b14-334d-50e6-9a81-16e1fb973c8a","name":"Tin Moth","built":true,"guessed":true,"massGrams":2.5,"listCents":3,"mends":[{"group":"group","parts":["parts"],"accessSec":3,"accessBadSec":3,"joints":3,"name":"Tin Moth","from":3,"each":true,"likelySec":3,"badSec":3,"costCents":3}],"notes":"notes","retired":true}],"fights":[{"id":"0c93aec5-25ab-5974-96b0-c0c890474e76","v":42,"robot":"f63e3b14-334d-50e6-9a81-16e1fb973c8a","arena":"main","number":3,"opponent":"opponent","opponentKind":"opponent kind","notBefore":"2026-05-09T14:02:31.500Z","after":"0c93aec5-25ab-5974-96b0-c0c890474e76","if":"won","state":"planned","result":"won","onAt":"2026-05-09T14:02:31.500Z","endAt":"2026-05-09T14:02:31.500Z","liveAt":"2026-05-09T14:02:31.500Z","setup":"a254c1f6-edf4-527e-9ac5-f38504831dbb","leftAt":"2026-05-09T14:02:31.500Z","benchAt":"2026-05-09T14:02:31.500Z","postponed":{"at":"2026-05-09T14:02:31.500Z","by":"7637d109-7b67-5b1a-800f-cdcd51df429c","sec":3},"over":{"at":"2026-05-09T14:02:31.500Z","was":"2026-05-09T14:02:31.500Z"},"loosened":[{"what":"what","reason":"reason","by":"7637d109-7b67-5b1a-800f-cdcd51df429c","at":"2026-05-09T14:02:31.500Z","setting":"setting","until":"2026-05-09T14:02:31.500Z","hurt":"f63e3b14-334d-50e6-9a81-16e1fb973c8a"}],"pauses":[{"from":"2026-05-09T14:02:31.500Z","to":"2026-05-09T14:02:31.500Z"}]}]};

/** POST /api/join. @satisfies {import('../../frontend/core/wire.d.ts').JoinAsk} */
export const httpJoin = {"code":"7K3QZ9TM","name":"Tin Moth","pin":"271828"};

/** answers a code without a name. @satisfies {import('../../frontend/core/wire.d.ts').RosterAnswer} */
export const httpRoster = {"role":"crew","people":[{"id":"7637d109-7b67-5b1a-800f-cdcd51df429c","name":"Tin Moth","claimed":true}]};

/** answers a code with name and PIN. @satisfies {import('../../frontend/core/wire.d.ts').JoinedAnswer} */
export const httpJoined = {"token":"Zm9yIGV4YW1wbGUgb25seSwgbm90IGEgdG9rZW4hISE","role":"crew","person":"7637d109-7b67-5b1a-800f-cdcd51df429c","name":"Tin Moth"};

/** answers GET /api/me. @satisfies {import('../../frontend/core/wire.d.ts').WhoAnswer} */
export const httpMe = {"role":"crew","person":"7637d109-7b67-5b1a-800f-cdcd51df429c","name":"Tin Moth"};

/** POST /api/do and POST /admin/load. @satisfies {import('../../frontend/core/wire.d.ts').Ask} */
export const httpDo = {"id":"019e0d4f-5c8c-7b2a-9d31-6f1f0a2b3c4d","do":"note.add","with":{"text":"blade is bent"},"seen":{"robot/f63e3b14-334d-50e6-9a81-16e1fb973c8a":42},"at":"2026-05-09T14:02:31.500Z","shiftSec":3,"pins":[{"person":"7637d109-7b67-5b1a-800f-cdcd51df429c","pin":"271828"}]};

/** answers POST /api/do. @satisfies {import('../../frontend/core/wire.d.ts').DoneAnswer} */
export const httpDone = {"id":"019e0d4f-5c8c-7b2a-9d31-6f1f0a2b3c4d","rev":42};

/** answers whatever is no success. @satisfies {import('../../frontend/core/wire.d.ts').RefusedAnswer} */
export const httpRefused = {"refusal":{"code":"stale","rule":3,"ruleSays":"rule says","field":"seen","sentence":"Someone changed this since you looked. Read what it says now, then repeat if it still holds.","job":"ef619680-f043-5897-92c9-8f9143810ea0","now":"robot/f63e3b14-334d-50e6-9a81-16e1fb973c8a"},"entity":{"id":"917dfe43-04aa-5b89-82b8-80c11aa2a36b","v":42,"text":"blade is bent","by":"7637d109-7b67-5b1a-800f-cdcd51df429c","at":"2026-05-09T14:02:31.500Z"}};

/** answers GET /api/journal?after=41. @satisfies {import('../../frontend/core/wire.d.ts').JournalAnswer} */
export const httpJournal = {"lines":[{"rev":42,"at":"2026-05-09T14:02:31.500Z","id":"019e0d4f-5c8c-7b2a-9d31-6f1f0a2b3c4d","role":"crew","do":"note.add","with":{"text":"blade is bent"},"put":{"note/917dfe43-04aa-5b89-82b8-80c11aa2a36b":{"id":"917dfe43-04aa-5b89-82b8-80c11aa2a36b","v":42,"text":"blade is bent","by":"7637d109-7b67-5b1a-800f-cdcd51df429c","at":"2026-05-09T14:02:31.500Z"}}}]};

/** answers GET /api/commands. @satisfies {import('../../frontend/core/wire.d.ts').CommandsAnswer} */
export const httpCommands = {"commands":[{"do":"note.add","what":"what","roles":["crew"],"undo":true,"seen":true,"fields":[{"name":"Tin Moth","type":"type","optional":true}]}],"refusals":[{"code":"stale","status":3,"what":"what"}]};

/** answers GET /api/lists. @satisfies {import('../../frontend/core/wire.d.ts').ListsAnswer} */
export const httpLists = {"lists":[{"list":"make-safe","lines":[{"id":"019e0d4f-5c8c-7b2a-9d31-6f1f0a2b3c4d","part":"part","kind":"number","kept":true,"many":true,"ask":"ask","touch":"touch","say":"say","not":"not"}]}]};

/** answers GET /api/sessions. @satisfies {import('../../frontend/core/wire.d.ts').SessionsAnswer} */
export const httpSessions = {"sessions":[{"id":"019e0d4f-5c8c-7b2a-9d31-6f1f0a2b3c4d","role":"crew","code":"crew","person":"7637d109-7b67-5b1a-800f-cdcd51df429c","name":"Tin Moth","since":"2026-05-09T14:02:31.500Z","seen":"2026-05-09T14:02:31.500Z","sockets":3,"mine":true}]};

/** answers POST /api/sessions/end. @satisfies {import('../../frontend/core/wire.d.ts').EndedAnswer} */
export const httpEnded = {"ended":3};

/** answers GET and POST /api/door. @satisfies {import('../../frontend/core/wire.d.ts').DoorAnswer} */
export const httpDoor = {"locked":true,"liftedUntil":"2026-05-09T14:02:31.500Z"};

/** answers GET /api/codes. @satisfies {import('../../frontend/core/wire.d.ts').CodesAnswer} */
export const httpCodes = {"codes":[{"role":"crew","code":"7K3QZ9TM"}]};

/** answers GET /api/health. @satisfies {import('../../frontend/core/wire.d.ts').HealthAnswer} */
export const httpHealth = {"health":"health","start":{"says":"says","bad":true},"copy":{"says":"says","bad":true},"disk":{"says":"says","bad":true},"clock":"clock","line":"line","bad":true,"recovered":["recovered"]};

/** answers GET /api/file. @satisfies {import('../../frontend/core/wire.d.ts').FileAnswer} */
export const httpFile = {"path":"path","moved":true,"rescued":"rescued"};

/** answers GET /api/clock. @satisfies {import('../../frontend/core/wire.d.ts').ClockAnswer} */
export const httpClock = {"now":"2026-05-09T14:02:31.500Z","laptop":"2026-05-09T14:02:31.500Z","bySec":3,"moves":["moves"]};

/** answers POST /api/codes/change. @satisfies {import('../../frontend/core/wire.d.ts').CodeEntry} */
export const httpCode = {"role":"crew","code":"7K3QZ9TM"};

/** answers GET and POST /api/copies/code. @satisfies {import('../../frontend/core/wire.d.ts').CopiesCodeAnswer} */
export const httpCopiesCode = {"code":"7K3QZ9TM"};

/** POST /api/copies/code. @satisfies {import('../../frontend/core/wire.d.ts').CopiesCodeAsk} */
export const httpCopiesAsk = {"off":true};

/** answers POST /api/photos. @satisfies {import('../../frontend/core/wire.d.ts').PhotoAnswer} */
export const httpPhoto = {"photo":"1c182f96-0ff7-5db1-a5e8-4c006e12418d"};

/** answers POST /api/team. @satisfies {import('../../frontend/core/wire.d.ts').TeamAnswer} */
export const httpTeam = {"loaded":true,"people":3,"robots":3,"packs":3,"jobs":3,"fights":3,"faults":[{"file":"file","line":3,"column":"column","number":3,"value":"value","want":"want","more":[3],"ask":"ask"}],"skipped":["skipped"]};

/** answers POST /admin/check. @satisfies {import('../../frontend/core/wire.d.ts').CheckAnswer} */
export const httpCheck = {"ok":true,"rev":42,"bytes":3,"nouns":3,"lines":3,"damage":["damage"],"faults":["faults"]};
