// Package job answers how an assembly of a machine is rebuilt: what goes in new and
// which kit brings it, what to inspect, the steps, what is tried afterwards, and the
// cautions of the trade that belong to it, whoever wrote the job. The door is Job; what is
// bought for it is asked of package shop, and its joints are those of worksheet.
package job
