package words

// What each command does, in a line of help.
const (
	WhatHelp    = "what I do; /help safety, /help log"
	WhatLog     = "log sets, as you would tell a friend"
	WhatUndo    = "take your last log back"
	WhatGates   = "which standards you have shown, and what is missing"
	WhatNext    = "what your next session asks, and why"
	WhatHistory = "what you logged"
	WhatAway    = "days on which you do not train; /away end"
	WhatPause   = "stop for now, for any reason; /pause end within 15 minutes takes it back"
	WhatMe      = "your time zone and nudges"
	WhatMydata  = "all I keep of you, or have it erased"

	WhatDigest     = "the week, now"
	WhatRoster     = "everyone, a line each"
	WhatWitness    = "you saw a gate shown, today or up to 7 days back"
	WhatUnwitness  = "take that back"
	WhatCoachPause = "stop a member until you resume them"
	WhatResume     = "end a member's pause; void:yes if it should never have been"
	WhatCorrect    = "replace what a member logged for a day; text:none clears it"
	WhatDays       = "the team's days, as Mon Thu"
	WhatProgramme  = "the programme in force, or take another"
	WhatMember     = "put somebody on the roster, set their zone, or remove them"

	WhatSetup = "the team's zone, days, times and coach"
)
