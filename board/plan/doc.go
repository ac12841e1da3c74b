// Package plan decides who does which work when, so that every group of work
// is ready by its deadline where that can be done.
//
// The problem is a multi-mode resource-constrained project scheduling problem
// with several projects (groups) that share people, pools and stock:
// precedence, earliest starts, running tasks that never move, optional tasks,
// teams of people with skills, one deadline per group. The package knows
// tasks and groups only by index; what a group stands for is the caller's
// business.
//
// # Notation
//
// Every time is a whole number of seconds from now, from 0 to [HorizonSec]
// (7 days); longer times count as HorizonSec. An interval holds its start and
// not its end. A schedule is one start time given to every task.
//
// # Method
//
// A list of tasks, a way for each and a preferred team for each are decoded by
// serial schedule generation: tasks are taken in list order, each gets the
// earliest start that precedence, pools, room and people allow. Two populations
// are bred, one decoded forward and one from the end, each the children of the
// other; then the best schedule is changed bit by bit: a window of its list,
// some ways, a team. Only what stands behind the first change is decoded again,
// and only until the result is sure to be worse; what is left is justified to
// the right and decoded forward once more. Where people follow a plan, the
// search begins from it.
//
// References: R. Kolisch, S. Hartmann, "Experimental investigation of
// heuristics for resource-constrained project scheduling: an update", European
// Journal of Operational Research 174 (2006) 23-37 (counting of schedules,
// serial generation, sampling); V. Valls, F. Ballestin, S. Quintanilla,
// "Justification and RCPSP: a technique that pays", EJOR 165 (2005) 375-386;
// D. Debels, M. Vanhoucke, "A bi-population based genetic algorithm for the
// resource-constrained project scheduling problem", ICCSA 2005, LNCS 3483,
// 378-387 (all from memory).
//
// # Caveats
//
// The answer depends on the problem, the budget and the seed alone. It is the
// best schedule found, with no promise that it is the best there is; only
// [GroupPlan].BoundSec and [Plan].Short are proved.
package plan
