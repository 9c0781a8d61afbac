// Package why shows the whole trail of an answer: facts, rules and what was
// worked out from them, each with its source. The door is Why.
package why
