// Package faults holds the real program, with a real PostgreSQL, against what breaks: the
// database away in every manner, kill -9 of either or both, failover, slow leaks. The tests
// have the build tag faults, so that `go test ./...` leaves them out:
//
//	deploy/check faults                             the short form: a minute or two, asserts counts
//	deploy/check faults --long                      the long form: hours, judges times as well
//	FAULTS_SEED=7 FAULTS_ONLY=Kill deploy/check faults   the same again, of one test
//	FAULTS_SHARE=0.1 deploy/check faults --long     a tenth of the cycles and times of the long form
//
// Every test prints its seed and fails when it saw too little traffic. All traffic stays on
// loopback, and every loop ends by itself.
package faults
