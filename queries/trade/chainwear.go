package trade

import "cmp"

// ChainWear is how much longer a chain has become, in percent.
//
//	wear = (measured / (pitches x pitch) - 1) x 100
//
// Measured in mm from pin to pin, straight and under a light pull; 20 pitches
// lie between pin 1 and pin 21. Below zero is a wrong count. Source: arithmetic;
// how much is too much is the machine's own book's to say: published limits run
// from 1.5 to 3 percent. Refuses fewer than 1 pitch, and lengths not above zero.
func ChainWear(measured float64, pitches int, pitch float64) (float64, error) {
	err := cmp.Or(positive("length", measured, "mm"), positive("pitch", pitch, "mm"),
		between("pitches", float64(pitches), 1, 1000, ""))
	if err != nil {
		return 0, err
	}
	return (measured/(float64(pitches)*pitch) - 1) * 100, nil
}

// CommonTeeth is the greatest number that divides both sprockets: above 1, the
// same teeth meet the same links again and again and wear them alike.
//
// Source: arithmetic. Refuses sprockets of fewer than 6 teeth.
func CommonTeeth(front, rear int) (int, error) {
	if err := cmp.Or(teeth("front sprocket", front, 6), teeth("rear sprocket", rear, 6)); err != nil {
		return 0, err
	}
	for rear != 0 {
		front, rear = rear, front%rear
	}
	return front, nil
}
