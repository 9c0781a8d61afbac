package main

import (
	"github.com/spf13/cobra"
)

// askOptions are what every question has: which graph to ask, and how to print
// the answer.
type askOptions struct {
	where
	format format
}

func (o *askOptions) addFlags(cmd *cobra.Command) {
	o.where.addFlags(cmd)
	addFormatFlag(cmd, &o.format)
}
