// A fuzz target for the reader of scans and of typed numbers: built and run by scripts/fuzz with AddressSanitizer and
// UndefinedBehaviorSanitizer. What must hold for any input:
// - a refusal is empty, and no four printable characters of the input stand anywhere in what is returned;
// - what was understood stands in the input, character for character, and consists of nothing that is not on a label;
// - a typed number is right only if its check is, by another formula than the reader's.

#include "core/match/expiry.hpp"
#include "core/match/label.hpp"

#include <cstdint>
#include <cstdio>
#include <cstdlib>
#include <cstring>
#include <new>
#include <string_view>

using namespace hangtime;

namespace {

void must(bool truth, const char* what) {
    if (truth) return;
    std::fprintf(stderr, "broken: %s\n", what);
    std::abort();
}

bool printable(std::string_view text) {
    for (const char c : text)
        if (c <= ' ' || c > '~') return false;
    return true;
}

// Nothing else stands in a structure that is read, in its prefix or in a line end.
bool may_stand_on_a_label(char c) {
    const bool alphanumeric = (c >= '0' && c <= '9') || (c >= 'A' && c <= 'Z') || (c >= 'a' && c <= 'z');
    return alphanumeric || (c != '\0' && std::strchr("=&%<>*}({\\),+/$]\r\n\t", c) != nullptr);
}

void refused(std::string_view input) {
    alignas(Scan) unsigned char bytes[sizeof(Scan)];
    std::memset(bytes, 0xEE, sizeof bytes);
    const Scan* scan = new (bytes) Scan(read_scan(input));
    must(scan->data == LabelData{}, "a refusal holds something");
    const std::string_view all(reinterpret_cast<const char*>(bytes), sizeof bytes);
    for (std::size_t i = 0; i + 4 <= input.size(); ++i)
        if (const std::string_view part = input.substr(i, 4); printable(part))
            must(all.find(part) == all.npos, "a refusal holds bytes of the input");
}

void sane(const std::optional<LabelTime>& time) {
    if (!time) return;
    const LocalTime& t = time->at;
    must(t.year >= 2000 && t.year <= 2099 && t.month >= 1 && t.month <= 12 && t.day >= 1 && t.day <= 31, "a date");
    must(t.hour >= 0 && t.hour <= 23 && t.minute >= 0 && t.minute <= 59, "a time");
    must(time->end_of_day == (t.hour == 23 && t.minute == 59), "the end of a day");
    must(expires_at(*time, WallClock(Seconds{0})).utc > 0, "a moment");
}

void understood(std::string_view input, const LabelData& d) {
    must(input.size() <= most_scanned, "longer than anything on a bag");
    for (const char c : input) must(may_stand_on_a_label(c), "a character that no label has");
    must(d.number || d.group || d.product || d.expiry || d.collected || input.find("&$") != input.npos,
         "understood, and nothing said");
    if (d.number) must(input.find(d.number->view()) != input.npos, "a number that was not in the input");
    if (d.product) must(input.find(d.product->view()) != input.npos, "a product that was not in the input");
    if (d.volume) must(d.volume->units > 0 && *d.volume <= bounds::volume, "a volume");
    sane(d.expiry);
    sane(d.collected);
}

int value(char c) { return c == '*' ? 36 : c <= '9' ? c - '0' : c - 'A' + 10; }

void typed(std::string_view input) {
    const TypedNumber got = read_typed_number(input);
    must((got.reason == TypedReason::right) == got.number.has_value(), "a typed number without a reason");
    if (!got.number) return;
    // The weights of the standard's other method: 2 to the power of the place, from the right.
    int sum = 0, weight = 1;
    char check = 0;
    for (std::size_t i = input.size(); i-- > 0;) {
        if (input[i] == ' ') continue;
        if (weight == 1) check = input[i];
        sum = (sum + value(input[i]) * weight) % 37;
        weight = weight * 2 % 37;
    }
    must(sum == 1, "a typed number with a wrong check");
    must(check_character(*got.number) == check, "two checks that differ");
}

}  // namespace

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
    const std::string_view input(reinterpret_cast<const char*>(data), size);
    const Scan scan = read_scan(input);
    if (scan.understood()) understood(input, scan.data);
    else refused(input);
    typed(input);
    const TypedProduct product = read_typed_product(input);
    must(product.product ? product.product->view() == input : product.reason != TypedReason::right, "a typed product");
    return 0;
}
