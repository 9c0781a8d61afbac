package store

import (
	"context"

	"matewell/graph"
)

// Facts reads everything the store holds. Putting the result into another
// store gives an equal one.
func (s *Store) Facts(ctx context.Context) (graph.Facts, error) {
	var f graph.Facts
	steps := []func() error{
		gather(ctx, s, sourceCodec(), &f.Sources),
		gather(ctx, s, brandCodec(), &f.Brands),
		gather(ctx, s, kindCodec(), &f.Kinds),
		gather(ctx, s, modelCodec(), &f.Models),
		gather(ctx, s, variantCodec(), &f.Variants),
		gather(ctx, s, assemblyCodec(), &f.Assemblies),
		gather(ctx, s, positionCodec(), &f.Positions),
		gather(ctx, s, partCodec(), &f.Parts),
		gather(ctx, s, fitmentCodec(), &f.Fitments),
		gather(ctx, s, jointCodec(), &f.Joints),
		gather(ctx, s, runCodec(), &f.Runs),
		gather(ctx, s, circuitCodec(), &f.Circuits),
		gather(ctx, s, stackCodec(), &f.Stacks),
		gather(ctx, s, supersessionCodec(), &f.Supersessions),
		gather(ctx, s, findingCodec(), &f.Findings),
		gather(ctx, s, bikeCodec(), &f.Bikes),
	}
	for _, step := range steps {
		if err := step(); err != nil {
			return graph.Facts{}, err
		}
	}
	return f, nil
}

func gather[K identity, T any](ctx context.Context, s *Store, c codec[K, T], into *[]T) func() error {
	return func() error {
		list, err := all(ctx, s, c)
		*into = list
		return err
	}
}
