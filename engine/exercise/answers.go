package exercise

import (
	"strconv"

	"backpitch/engine/design"
	"backpitch/engine/finding"
)

// Answers is what a student hands in; schema/answers.schema.json describes it.
type Answers struct {
	Schema   string   `json:"$schema,omitempty"`
	Exercise string   `json:"exercise"` // from the answer sheet: which exercise this is
	Student  string   `json:"student,omitempty"`
	Sound    bool     `json:"sound,omitempty"` // the student finds no fault at all
	Answers  []Answer `json:"answers"`
}

// Answer is one fault as a student sees it.
type Answer struct {
	Subject  string          `json:"subject"` // id of the element
	Rule     string          `json:"rule"`    // rule id, or what is wrong in a few words
	Outcome  finding.Outcome `json:"outcome"` // fail or open
	Section  string          `json:"section,omitempty"`
	Found    string          `json:"found,omitempty"`
	Required string          `json:"required,omitempty"`
	Missing  string          `json:"missing,omitempty"` // of open: what is not shown
	Sum      string          `json:"sum,omitempty"`
}

// answerLimits are far above what a class writes and far below what hurts.
var answerLimits = design.Limits{Bytes: MostAnswerBytes, Depth: 8, Values: 20_000, Text: 1000, Fixed: true}

// MostAnswerBytes is the size over which an answer file is refused.
const MostAnswerBytes = 1 << 20

// ReadAnswers reads an answer file with the care that a design gets; name is
// what problems call it. The Answers are nil when there are problems.
func ReadAnswers(name string, data []byte) (*Answers, []finding.Problem) {
	src, problems := design.ReadSource(name, "answers", "answer file", data, answerLimits)
	if src == nil {
		return nil, problems
	}
	var a Answers
	if problems := src.Decode(&a); problems != nil {
		return nil, problems
	}
	if a.Sound && len(a.Answers) > 0 {
		return nil, []finding.Problem{{Place: src.Place("/sound"), Code: "contradiction",
			Message: "the design is called sound and " + count(len(a.Answers), "answer") + " given", Hint: `leave "sound" out, or the answers`}}
	}
	return &a, nil
}

// count is "1 answer is", "2 answers are".
func count(n int, noun string) string {
	if n == 1 {
		return "1 " + noun + " is"
	}
	return strconv.Itoa(n) + " " + noun + "s are"
}

// Sheet is the empty answer sheet of an exercise.
func Sheet(k *Key) Answers {
	return Answers{Exercise: k.Exercise, Answers: []Answer{}}
}
