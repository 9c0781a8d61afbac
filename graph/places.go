package graph
