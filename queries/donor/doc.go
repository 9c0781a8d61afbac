// Package donor plans the smallest set of further changes after which parts from
// a donor mate with what stays. The door is Donor; the problem is put to package
// plan, and every plan that comes back is judged by swap.Judge.
package donor
