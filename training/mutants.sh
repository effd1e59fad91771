#!/bin/sh
# Seeds one fault at a time into a copy of this package and runs its tests.
# Prints a line for each; exits 1 if a fault survives, 2 if one no longer fits
# the code. Takes about four minutes. Usage: training/mutants.sh [WORD],
# WORD to seed only the faults whose name holds it.
set -eu
root=$(cd "$(dirname "$0")/.." && pwd)
work=$(mktemp -d)
trap 'rm -rf "$work"' EXIT
cp "$root/go.mod" "$root/go.sum" "$work"
cp -R "$root/training" "$work/training"
cd "$work"
survived=0 seeded=0 only=${1:-}

# mutant NAME FILE SED-COMMAND
mutant() {
	case $1 in *"$only"*) ;; *) return 0 ;; esac
	file=training/$2
	cp "$file" "$work/kept"
	sed "$3" "$work/kept" >"$file"
	if cmp -s "$file" "$work/kept"; then
		echo "stale     $1: $2 has no such place" >&2
		exit 2
	fi
	seeded=$((seeded + 1))
	if ! go build ./training >"$work/out" 2>&1; then
		echo "stale     $1: does not compile" >&2
		cat "$work/out" >&2
		exit 2
	fi
	if go test ./training -vet=off -count=1 -failfast -rapid.checks=300 >"$work/out" 2>&1; then
		echo "SURVIVED  $1"
		survived=$((survived + 1))
	else
		echo "caught    $1"
	fi
	cp "$work/kept" "$file"
}

go test -count=1 ./training >/dev/null

mutant "one clear day more is asked" rest.go 's/had < r.ClearDays {/had < r.ClearDays+1 {/'
mutant "free: <= for < in clear days" rest.go 's/-1) < r.ClearDays {/-1) <= r.ClearDays {/'
mutant "violations: >= for > in the week" rest.go 's/had > r.Sessions/had >= r.Sessions/'
mutant "free: <= for < in the week" rest.go 's/inWeek(counted, at, d) < r.Sessions/inWeek(counted, at, d) <= r.Sessions/'
mutant "a week of 6 days" rest.go 's/>= d-6 {/>= d-5 {/'
mutant "a week of 8 days" rest.go 's/>= d-6 {/>= d-7 {/'
mutant "the plan looks back one day short" plan.go 's/^const lookBack = 6/const lookBack = 5/'
mutant "next team day reaches a day short" plan.go 's/^const teamDayReach = 60/const teamDayReach = 59/'
mutant "next team day reaches a day far" plan.go 's/^const teamDayReach = 60/const teamDayReach = 61/'
mutant "chosen days do not count" plan.go 's/counted = append(counted, d)$/past, counted = past-1, append([]Day{d}, counted...)/'
mutant "away is allowed" plan.go 's/ \&\& !r.AwayOn(d)//'
mutant "paused is allowed" plan.go 's/ \&\& !r.PausedOn(d)//'
mutant "uncounted counts" plan.go 's/ok && p.Ladders\[at.ladder\].Counts {/ok \&\& !p.Ladders[at.ladder].Tries {/'
mutant "a failed set does not count for rest" plan.go 's/ok && p.Ladders\[at.ladder\].Counts {/ok \&\& p.Ladders[at.ladder].Counts \&\& !s.Sets[i].Failed {/'
mutant "the day begins at 03:59 and before" day.go 's/^const DayStart = 4/const DayStart = 3/'
mutant "04:00 is the day before" day.go 's/if at.In(zone).Hour() < DayStart {/if at.In(zone).Hour() <= DayStart {/'
mutant "a session knows its last rung alone" record.go 's/s.seen |= maskOf/s.seen = maskOf/'
mutant "a session knows its last work alone" record.go 's/s.most = max(s.most, sets/s.most = max(sets/'
mutant "a session knows no reps" record.go 's/, sets\[i\].WorkS, sets\[i\].Reps)/, sets[i].WorkS)/'
mutant "a session must reach more than the work" record.go 's/s.most >= work/s.most > work/'
mutant "a window of 27 days" gate.go 's/^const GoodDays = 28/const GoodDays = 27/'
mutant "a window of 29 days back" gate.go 's/^const GoodDays = 28/const GoodDays = 29/'
mutant "work > W, not >=" gate.go 's/if j.work(&s.Sets\[i\]) >= j.Standard.Work {/if j.work(\&s.Sets[i]) > j.Standard.Work {/'
mutant "a rest of exactly Q is too long" gate.go 's/s.RestS.Value > j.RestS/s.RestS.Value >= j.RestS/'
mutant "a tie goes to the earliest" gate.go 's/sum >= most/sum > most/'
mutant "a failed set is clean" set.go 's/return !s.Failed && /return /'
mutant "help is clean" set.go 's/ && s.Help == ""//'
mutant "a counterweight is clean" set.go 's/ && s.LoadHg >= 0//'
mutant "an added load is not clean" set.go 's/s.LoadHg >= 0/s.LoadHg == 0/'
mutant "an easier rung is eligible" gate.go 's/Rungs\[at.rung:\]}/Rungs}/'
mutant "a harder rung is not eligible" gate.go 's/Rungs\[at.rung:\]}/Rungs[at.rung : at.rung+1]}/'
mutant "paused days show a gate" gate.go 's/>= j.Sets && !r.PausedOn(sessions\[i\].Day)/>= j.Sets/'
mutant "F is ignored" gate.go 's/first := max(today-GoodDays, floor)/first := today - GoodDays/'
mutant "while paused F is today" ready.go 's/return today + 1/return today/'
mutant "a mark before F witnesses" gate.go 's/case mark >= first:/case mark >= today-GoodDays:/'
mutant "one session ends a return" ready.go 's/^const returnSessions = 2/const returnSessions = 1/'
mutant "the return ends before the second session's day does" ready.go 's/return back, s.Day == today/return back, false/'
mutant "attempts on a day with other work" ready.go 's/ && !ready.Trained$//'
mutant "advice blocks" ready.go 's/if !gate.Blocking {/if false {/'
mutant "progress is rounded down" ratio.go 's/2\*r.Num\*scale+r.Den/2*r.Num*scale/'
mutant "returning: three quarters at once" target.go 's/back.Sessions, 50$/back.Sessions, 75/'
mutant "returning looks 83 days back" climb.go 's/last+1-TargetDays/last+2-TargetDays/'
mutant "a target looks 83 days back" target.go 's/^const TargetDays = 84/const TargetDays = 83/'
mutant "a target looks 85 days back" target.go 's/^const TargetDays = 84/const TargetDays = 85/'
mutant "time away from 13 days on" target.go 's/^const KeepDays = 14/const KeepDays = 13/'
mutant "time away without a bottom" target.go 's/max(60, 100-10/max(0, 100-10/'
mutant "more than a third, not at least" climb.go 's/3\*work >= c.standard/3*work > c.standard/'
mutant "no move up" climb.go 's/rung+1 < len(c.l.Rungs)/rung+1 < 0/'
mutant "the mean of two" climb.go 's/var top \[3\]int/var top [2]int/;s/top\[0\] + top\[1\] + top\[2\]/top[0] + top[1]/'
mutant "a fall of a tenth is enough" climb.go 's/return c.mean(later, rung).Less(c.mean(earlier, rung).Times(9, 10))/return !c.mean(earlier, rung).Times(9, 10).Less(c.mean(later, rung))/'
mutant "a long fall goes on" climb.go 's/ || back\[3\] != nil && drops(back\[2\], back\[3\])//'
mutant "an effort of 8 is hard" climb.go 's/set.Effort.Value >= 9/set.Effort.Value >= 8/'
mutant "exactly 80 % is hard" climb.go 's/10\*last < 8\*first/10*last <= 8*first/'
mutant "a step of a fifth" target.go 's/mean.Times(110, 100)/mean.Times(120, 100)/'
mutant "no sets are held back" target.go 's/min(c.p.Shape.Sets, c.clean(s, rung)+1)/c.p.Shape.Sets/'
mutant "keeping asks one set whatever S held" target.go 's/c.r.Floor(c.today)) >= sets {/c.r.Floor(c.today)) >= 0 {/'
mutant "attempts come last" target.go 's/append(\[\]Target{p.attempts(l, r, today)}, targets...)/append(targets, p.attempts(l, r, today))/'
mutant "attempts replace nothing" target.go 's/l.Name == p.Shape.Replaces {/l.Name == "" {/'
mutant "nothing alternates" bout.go 's/ \&\& len(turns) > 0:/ \&\& false:/'
mutant "tension of one rep alone" load.go 's/return s.WorkS \* s.Reps/return s.WorkS/'
mutant "a missing effort is zero" load.go 's/^\tif load.Known {/\tif true {/'
mutant "absent after 13 days" week.go 's/^const AbsentDays = 14/const AbsentDays = 13/'
mutant "absent after 15 days" week.go 's/^const AbsentDays = 14/const AbsentDays = 15/'
mutant "a gate met again within its time moves" week.go 's/first := max(on-GoodDays, r.Floor(on))/first := on/'
mutant "a lapse is not told from a showing in time" week.go 's/first := max(on-GoodDays, r.Floor(on))/first := Day(1)/'
mutant "advice keeps from being ready" ready.go 's/if gate.Blocking && p.Standing/if p.Standing/'
mutant "stuck after five sessions" trend.go 's/^\tstuckPoints = 6 /\tstuckPoints = 5 /'
mutant "stuck by 27 days" trend.go 's/^\tstuckDays   = 28/\tstuckDays   = 27/'
mutant "a trend of four sessions" trend.go 's/^\ttrendPoints     = 5 /\ttrendPoints     = 4 /'
mutant "no correction for continuity" stat.go 's/float64(score-sign(float64(score)))/float64(score)/'
mutant "ties do not matter" stat.go 's/^\t\t\tv -= t/\t\t\tv -= 0 * t/'
mutant "planned before joining" week.go 's/from := max(first, r.Joined)/from := first/'

echo "$seeded seeded, $survived survived"
[ "$survived" -eq 0 ]
