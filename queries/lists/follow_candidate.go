package lists

func Order(last bool) int {
	if last {
		return 1
	}
	return 0
}
