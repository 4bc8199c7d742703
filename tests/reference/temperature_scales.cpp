// Degrees Celsius and Fahrenheit by the definition of the Fahrenheit scale in terms of the Celsius one
// (t/F = 9/5 t/C + 32; NIST Special Publication 811, B.8): 38.0 C is 100.4 F, a rise of 1.0 C is 1.8 F, both as
// the surveillance protocol of CDC NHSN prints them. Checked for every tenth from 30 to 45 degrees C against
// every tenth of a degree F.

#include "core/observe/observation.hpp"

#include <catch2/catch_test_macros.hpp>

using namespace hangtime;

TEST_CASE("every tenth from 30 to 45 degrees C stands exactly where it does on the other scale", "[observe]") {
    int equal = 0;
    for (int c = 300; c <= 450; ++c) {
        for (int f = 850; f <= 1140; ++f) {
            // f/10 = 9/5 c/10 + 32, multiplied by 50.
            const int left = 5 * f, right = 9 * c + 1600;
            const int ours = tenths_f(f).ninetieths() - tenths_c(c).ninetieths();
            CHECK((left < right) == (ours < 0));
            CHECK((left == right) == (ours == 0));
            equal += left == right;
        }
    }
    CHECK(equal == 31);  // every half degree C is a whole tenth F: 30.0 C is 86.0 F
}

TEST_CASE("38.0 degrees C are 100.4 F, and a rise of 1.0 degree C is one of 1.8 F", "[observe]") {
    CHECK(tenths_c(380).ninetieths() == tenths_f(1004).ninetieths());
    CHECK(tenths_f(1003).ninetieths() < tenths_c(380).ninetieths());
    CHECK(tenths_f(1004).ninetieths() - tenths_f(986).ninetieths() == ninetieths_of_rise(10));
    CHECK(tenths_f(1003).ninetieths() - tenths_f(986).ninetieths() < ninetieths_of_rise(10));
    CHECK(tenths_f(1004).ninetieths() - tenths_c(370).ninetieths() == ninetieths_of_rise(10));
    CHECK(tenths_c(390).ninetieths() == tenths_f(1022).ninetieths());
    CHECK(tenths_c(391).ninetieths() > tenths_f(1022).ninetieths());
}
