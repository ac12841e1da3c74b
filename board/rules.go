package board

// Rule is one safety rule as people read it. The board keeps it after every
// command, whichever it was and whoever gave it.
type Rule struct {
	Number int `json:"number"`
	// Says is the rule, as exactly as the program keeps it.
	Says string `json:"says"`
	// After is the standard it follows, or that it is our own decision.
	After string `json:"after"`
	// Relaxed says where less may be asked, and how; "" is nowhere.
	Relaxed string `json:"relaxed,omitzero"`
	// Elsewhere says who keeps it besides, or instead of, the board's own look at
	// each change.
	Elsewhere string `json:"elsewhere,omitzero"`
}

// rule is a Rule with what is asked of every change; number 0 is what has none.
type rule struct {
	Rule
	ask []func(*turn) *Refusal
}

const (
	ours     = "Our decision."
	lockout  = "29 CFR 1910.147"
	startUp  = "ISO 14118 on unexpected start-up and IEC 60204-1 on resets, known from summaries; the rest is our decision."
	shelving = "ISA-18.2 and IEC 62682 ask that an alarm be snoozed only for a time, known from summaries; the rest is our decision."
	shown    = " The board shows that on every screen."
)

// rulebook lists the rules in their order. Each function stands beside its noun.
// Where a command asks the same before, it does so for a better sentence.
var rulebook = []rule{
	{Rule{Number: 1,
		Says:  "A robot counts as live until someone has said by name, today, that it is not. The day begins at 4 in the morning.",
		After: ours,
	}, asks(rule1)},
	{Rule{Number: 2,
		Says:  "A robot that comes back from the arena or from a test is unknown by itself, and is made safe from the first line on. So is one that turns up in the arena without having been declared live, or signed ready at a test box.",
		After: lockout + "(f)(1) for tests; for the arena our decision.",
	}, asks(rule2)},
	{Rule{Number: 3,
		Says: "Power states come in their order: powered down, isolated, verified, then work. None is reached while a line before it is open. At the closing-up the covers wait for what is under them, and telling people comes last. " +
			"Where something can only be reached under the covers, one person alone is on until that is answered: other hands that come near make the robot unknown; and that a pack is out of a robot is the word of those with authority for it, its lead, the captain or event safety. " +
			"A pack that turns up in a robot makes it unknown, unless it is being closed up; and no robot gets power with a pack in it that its closing-up does not name, or that is not listed for it, and none is tested where a pack went in, or work was done, after an answer at its closing-up that this touches. " +
			"A rotor is at rest no sooner than the event's spin-down time after the board heard that the robot is powered down, and capacitors have the time that is entered for them. " +
			"While people are at work, gas and capacitors are looked at again every 15 minutes; overdue, the robot is unknown.",
		After:   lockout + "(d), and (d)(5)(ii) for what builds up again.",
		Relaxed: "The event may set another time for gas and capacitors, one hour at most and longer only with a reason, and leave some lines out of the inspection and the load-in list." + shown,
	}, asks(ruleMoves, rule3, rule3FirstIn, rule3Sheets, rule3Rest, rule3Out, rule3Named)},
	{Rule{Number: 4,
		Says:  "The check that a robot is really off is a step of its own, after isolating, by someone with authority for every energy of that robot. That lock and link are in their place is the word of those with that authority, on the sheets for making safe, first in, reopening, closing up and the way to the signature. A robot may ask for a second person to verify.",
		After: lockout + "(d)(6).",
	}, asks(rule4)},
	{Rule{Number: 5,
		Says: "A tag, or hands near, is one named person's, under a name of their own, no team's, no thing's or place's, no mere role and not two people's, which stays while that is on or a notice waits. Only that person puts it on and takes it off: on their own phone, or with their PIN on another. Where a PIN was forgotten, a new one takes nothing off that was put on before: that takes the old one, or an override. A tag takes authority for every energy of the robot; hands near is for anyone. " +
			"Minors and guests lead no robot, sign nothing, stay with no charge, and give no robot power; they may drive it, a minor where the event lets minors drive. A test or going live is declared by someone with authority for every energy of the robot, or by event safety. " +
			"That someone is no minor any more, or a signer now, takes a reason. It stands in the review, and event safety and the leads hear of it.",
		After: lockout + "(d)(4) and (e)(3).",
	}, asks(rule5, rule5Answers, rule5Drives, rule5Names, rule5Grown)},
	{Rule{Number: 6,
		Says: "The tag or hands near of someone who has gone comes off only by two named people who are both here, one of them the robot's lead or the captain; for the lead's own, one of them event safety or a signer from outside. " +
			"They write down where they looked, how and when they called, after the one who has gone last did something, who looked at the robot, and why, so that it can be read. Someone who did something on the board in the last two minutes is asked first, and not passed over in the minute after it. " +
			"The one who was gone gets a notice, and puts no tag on before they have acknowledged it.",
		After: lockout + "(e)(3), the exception.",
	}, asks(rule6, rule6Kept)},
	{Rule{Number: 7,
		Says:  "No test, no signature, no going live and no try whether it starts while anyone's hands are on the robot: their tag, their hands near, or a job they are at work on that is not off the robot; nor is there power where anyone's hands are on another of our robots. What comes in late from a phone counts: it makes the robot unknown, a tag of someone who may put none on is their hands near, and whoever was at work by it is on the robot until they say that they are not. Whoever closes a robot up tells someone else at the bench and names them, or says that nobody else was there, where nobody else is on it.",
		After: lockout + "(e)(2) and (f)(1).",
	}, asks(rule7, rule7Beside, rule7Away, rule7Kept, rule7Told)},
	{Rule{Number: 8,
		Says:    "A job that needs the robot locked out closes only if all the work on it was done under a verified lockout with a tag on. A job with hands in a robot asks for lockout, unless the captain's kind of job asks for none, or its lead, the captain or event safety says by name why it needs none. Whoever has a kind of job ask less than it did says why. Both stand in the review.",
		After:   ours,
		Relaxed: "For one job: its lead, a captain with authority for it, event safety or a signer, who did not do it, looks at the work again. That stands in the review.",
	}, asks(rule8, rule8Asked, rule8Ground, rule8Templates)},
	{Rule{Number: 9,
		Says:    "A job that needs the packs out closes only if every pack was out of the robot, with its place on the board, for all the work on it.",
		After:   ours,
		Relaxed: "For one job: its lead, a captain with authority for it, event safety or a signer, who did not do it, looks at the work again. That stands in the review.",
	}, asks(rule9)},
	{Rule{Number: 10,
		Says:  "No job on a robot closes before the robot is made safe and verified, what is under its covers is answered, and each pack that came back in it has a place or is set aside. The hands may be done long before.",
		After: ours,
	}, asks(rule10)},
	{Rule{Number: 11,
		Says: "Nobody signs a robot ready while a must, or a job that was begun, is not closed; while damage that can hurt people is not put right and looked at by other eyes, each by a word of its own, other damage that must be mended has no job that is done or left off by name, nor is its part off and that looked at, or a small one no name that accepts it; " +
			"when work, a part that came off, another module or another pack came after the answer to a line that it touches; or with no main pack in it, fewer main or weapon packs than it takes, or one that is not listed for it, not read since it was last used, set aside, or with a cell too low for a fight; or when the pack named for its transmitter is set aside, on a charger, not read since it was last used, or low. No other pack is put into it either. A weight under half the class limit, or over it, counts only when it is said twice, and a robot over it is not signed; minors and guests enter none, and nobody does before its class is said. A part comes off at work, under a tag; the power light alone also before the robot is verified. Damage is looked at on a robot that is verified, or was since it last had power. What a robot has by its settings, or someone saw on it, is not answered with \"not fitted\". A failsafe is shown by a test, or a fight, of 10 seconds or more. What happens after the signature takes it back.",
		After:   lockout + "(e)(1) for what is inspected; the rest is our decision.",
		Relaxed: "A fault may be left by name, with a reason, if it cannot hurt people. The lead, the captain or event safety grades a damage down or drops it, with a reason. A class limit may be raised, with a reason; that is printed. Where the event says so, or has not said where it may be proven, the failsafe is shown at the officials' check instead.",
	}, asks(rule11, rule11Asked, ruleDamage, ruleFailsafe, rule11Fitted, rule11Weighed, rule11NotFitted, rule11Sender)},
	{Rule{Number: 12,
		Says:    "Whoever worked on the robot's last repair since the last fight that it was declared live for, or finished it, or on a job after it that was dropped or left off, or said since that a gravely damaged part is off, or that damage which could hurt people is less than that or not on it, does not sign it ready. A neighbour or an official can. A robot is signed by a signer, by its lead, or by a captain with authority for every energy of it; if they may sign no more before it has gone live, it is unknown.",
		After:   ours,
		Relaxed: "In the event's settings, with a reason: the repairer may sign. Such a signature is withdrawn when the setting is put back." + shown,
	}, asks(rule12Signer, rule12)},
	{Rule{Number: 13,
		Says: "A pack that was set aside never comes back: it is not charged and goes into no robot, whatever is read, edited or undone. That one was found in a robot is always heard, and makes it unknown. With one in it that was read hot, or does not look fine, no robot is made safe. " +
			"One with a cell once read too low is set aside under any chemistry. That it is gone is for a robot's lead, the captain or event safety to say, and not by a word from before it was set aside; one that turns up is set aside again, by anyone. " +
			"No guest says that a pack is gone, and one that was for use the captain alone takes back, unread. No other pack gets the name of one that was set aside, nor one that people read as the same.",
		After: ours,
	}, asks(rule13, rule13Gone, rule13Name)},
	{Rule{Number: 14,
		Says: "A pack is charged only with someone named who stays with it, no minor or guest, at a charging place on the event's list, in fire-resistant containment, and within the number that the event lets one person watch. " +
			"Whoever stays with it says so on their own phone, or with their PIN, and works, or stays with another charge, only where the captain has said that the charge is in sight; seen at a robot elsewhere, they are asked who takes over. " +
			"Once its circuit went off or on, or someone says that it is off who may not, it may run, and is asked about, until someone says that they stay with it or that it is off. What comes late counts from when it was seen, and changes no later charge; a pack that was charged by a late word, where the board knows of no such charge and has something else there, is unread. " +
			"While a pack is on a charger, neither it nor its channel, its circuit or who stays with it leaves the board, its channel stays where it is, keeps its circuit and gives no fewer watts, no limit goes below what it is charged at, and the place stays what it is, on the list and with its station. " +
			"One that is set aside on a charger is there until a member of the team says that it lies elsewhere: until then its channel takes no other, and stays on the board where it is. The place where one that is set aside lies is not made one for such packs meanwhile. Where one lies that may vent, no charge is begun; nor where it lay, while only a guest or a minor says that it is elsewhere; nor anywhere while nobody has said where it is.",
		After: ours,
	}, asks(rule14, rule14Kept, rule14Said, rule14Sight)},
	{Rule{Number: 15,
		Says: "A pack is never put where someone grinds or welds, and nobody begins to grind or weld where a pack is, in a robot or out of it: at the station, and where the robot stands that is worked on. " +
			"Its station stays where it is meanwhile. That a pack was found there is always heard, and is an alarm.",
		After: ours,
	}, asks(rule15, rule15Stays)},
	{Rule{Number: 16,
		Says:  "A robot has power in the arena or at a test box, and nowhere else.",
		After: "Our decision; most rules of the sport ask the same.",
	}, asks(rule16)},
	{Rule{Number: 17,
		Says:  "A test has a name, a place and an end, at most 30 minutes away, and after it the robot is unknown. None begins or goes on with damage on the robot that can hurt people, but with that part off.",
		After: lockout + "(f)(1); the time is our decision.",
	}, asks(rule17, hurtTests)},
	{Rule{Number: 18,
		Says:      "The board by itself moves no robot toward power and no pack toward use: not when it starts again, not as time passes, not by an undo, a load or an answer from paper. What a board held back is held back by the backup that takes its place, and whoever was on a robot is on it there. A laptop's clock that is set moves nothing; when the captain sets the board's time, every robot is unknown and every pack unread.",
		After:     startUp,
		Elsewhere: "At its start the board makes every robot unknown, and no other rule keeps it from starting; an answer from paper is kept as record.",
	}, asks(rule18)},
	{Rule{Number: 19,
		Says:  "Whoever gives power or a guard back, or asks less of what has to be done, says what they saw on the board. If that has changed since, or the word comes more than 8 seconds late, it is refused: they look again. What only says that something is worse is heard all the same.",
		After: ours,
	}, asks(rule19)},
	{Rule{Number: 20,
		Says: "No test, no signature, no going live and no charge before the captain has entered, for this event, how robots are switched on and off, how long a weapon spins down, where packs are charged, and who to reach in an emergency. " +
			"While an emergency stands at a place, by its own word or because the robot that it is about stood there then or stands there now, no charge is begun there and no robot is tested or declared live; nor is a robot that one is about; every robot that stands there, or comes there, is unknown; and the place keeps its name and its kind.",
		After: ours,
	}, asks(rule20, rule20Places, (*turn).chargeInEmergency, (*turn).powerInEmergency)},
	{Rule{Number: 21,
		Says:  "What was answered or worked stays in the record. A new answer corrects an old one; nothing of it is changed, deleted or taken back, but the start of work for one minute. That a fight was not fought after all is for the robot's lead, the captain or event safety to say, with a reason.",
		After: ours,
	}, asks(rule21, rule21Work, rule21Fought)},
	{Rule{Number: 22,
		Says:      "Safety lines are answered one at a time. Nothing ticks them all, and no line has an answer before someone gives it.",
		After:     ours,
		Elsewhere: "The screens let a key that is held down answer no second line.",
	}, asks(rule22)},
	{Rule{Number: 23,
		Says:      "No good news is made of silence. What is good says who said it and when; what nobody has said today is shown as unknown; and nothing is called safe or clear by itself: no line, and nothing that has a name.",
		After:     ours,
		Elsewhere: "The screens, the forecast and the printed pages keep it, by their words. The board itself makes no such words.",
	}, asks(rule23)},
	{Rule{Number: 24,
		Says:      "An alarm about people is never snoozed, muted or hidden. Minors and guests raise one; they do not take it, do not end an emergency, and do not say that a pack that was set aside is gone or well away, nor that a charge is over: it may run then. Another is put aside by name, with a reason, for 15 minutes at most.",
		After:     shelving,
		Elsewhere: "The screens hide no alarm.",
	}, asks(rule24, rule24Pack, rule24Charge, rule24Ends)},
	{Rule{Number: 25,
		Says:      "A change of plan moves no robot's power state and answers no safety line: not another running order, not other people for a job, not what the forecast works out.",
		After:     ours,
		Elsewhere: "The forecast offers only commands that people could give by hand, and none that is about safety.",
	}, asks(rule25)},

	{ask: asks(ruleCaptain, ruleJobMoves, ruleStop, ruleWithdrawn, ruleRenamed, ruleEnds, ruleWeaker)},
}

func asks(list ...func(*turn) *Refusal) []func(*turn) *Refusal { return list }

func (t *turn) rules() *Refusal {
	for _, rule := range rulebook {
		if rule.Number != 18 && t.finds() {
			continue
		}
		for _, ask := range rule.ask {
			if bad := ask(t); bad != nil {
				return bad
			}
		}
	}
	return nil
}

// finds tells whether the board is starting, and so only finds what is there. A rule that
// keeps people from beginning a thing does not keep the board from finding it begun: a
// board that cannot start helps nobody.
func (t *turn) finds() bool {
	switch t.command.(type) {
	case BoardStart, BoardRestore:
		return true
	}
	return false
}

// Rules lists the numbered rules for people to read.
func Rules() []Rule {
	var list []Rule
	for _, r := range rulebook {
		if r.Number != 0 {
			list = append(list, r.Rule)
		}
	}
	return list
}

// saying is what a rule says, "" where there is none of that number.
func saying(number int) string {
	for _, r := range rulebook {
		if r.Number == number {
			return r.Says
		}
	}
	return ""
}
