package parser

import "rungbook/training"

func (r *reader) pain() []training.PainReport { return nil }

type bodyWord struct{ b uint32 }

const opensGate = 1

var bodyWords = map[string]bodyWord{"elbow": {1}}
