package measure

// UnitNames lets the tests from outside take each unit of a type.
var UnitNames = unitNames
