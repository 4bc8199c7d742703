#pragma once

/// How long a log takes: reading it, folding it, one record more. For bench.cpp.

namespace hangtime::bench {

/// Prints lines like those of bench.cpp, the times in milliseconds.
void measure_logs();

}  // namespace hangtime::bench
