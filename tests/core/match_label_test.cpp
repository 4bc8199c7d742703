// Reading label data: the structures on the list, with exact length and character class, and everything else
// dropped. Examples of numbers and checks are published ones; each names its place.

#include "core/match/expiry.hpp"
#include "core/match/label.hpp"
#include "core/words/match_words.hpp"

#include "random_plans.hpp"

#include <catch2/catch_test_macros.hpp>

#include <cstring>
#include <set>
#include <string>
#include <vector>

using namespace hangtime;

namespace {

// Issuer numbers A9990 to A9999 are set aside for tests (ICCBBA ST-001, 5.3).
const std::string bag_scan = "=A99992112345601";

ScanReason reason(std::string_view scanned) { return read_scan(scanned).reason; }

DonationNumber number(std::string_view text) {
    DonationNumber out;
    REQUIRE(text.size() == out.text.size());
    std::copy(text.begin(), text.end(), out.text.begin());
    return out;
}

LabelData bag_data(std::string_view scanned) {
    const Scan scan = read_scan(scanned);
    INFO(code(scan.reason));
    REQUIRE(scan.understood());
    return scan.data;
}

struct Published {
    const char *number, *source;
    char check;
    int flag;  // the same check in the bar code
};
constexpr Published published[] = {
    {"G123417654321", "ICCBBA ST-001 v6.2.2, A.1 and A.2", 'A', 70},
    {"G123498654321", "JPAC Red Book, Annex 2", 'H', 77},
    {"A999921123456", "ST-001, figure 2", '3', 63},
    {"W000009123456", "ST-001, 7.4.1", 'G', 76},
    {"A999818123456", "ST-001, 7.5.1.1", 'N', 83},
    {"A999820123456", "ST-001, figure 20", 'E', 74},
    {"A999917123456", "ST-001, figure 21", '9', 69},
    {"A999917123654", "ST-001, figure 21", 'Y', 94},
    {"A999915000001", "ST-001, figure 23", 'M', 82},
};

}  // namespace

TEST_CASE("published donation numbers have their published check", "[match]") {
    for (const Published& p : published) {
        INFO(p.number << ": " << p.source);
        CHECK(check_character(number(p.number)) == p.check);
        const LabelData with_flag = bag_data("=" + std::string(p.number) + std::to_string(p.flag));
        CHECK(with_flag.number_checked);
        CHECK(with_flag.number->view() == p.number);
        const TypedNumber typed = read_typed_number(std::string(p.number) + p.check);
        CHECK(typed.reason == TypedReason::right);
        CHECK(typed.number == number(p.number));
    }
    CHECK(bag_data("=G12341765432170").number->view() == "G123417654321");  // the bar code of ST-001 A.2
}

TEST_CASE("every wrong character and every swap in a typed number is caught", "[match]") {
    const std::string alphabet = "0123456789ABCDEFGHIJKLMNOPQRSTUVWXYZ*";
    int substitutions = 0, swaps = 0;
    for (const Published& p : published) {
        const std::string right = std::string(p.number) + p.check;
        for (std::size_t i = 0; i < right.size(); ++i) {
            for (const char c : alphabet) {
                if (c == right[i]) continue;
                std::string wrong = right;
                wrong[i] = c;
                CHECK(read_typed_number(wrong).reason != TypedReason::right);
                ++substitutions;
            }
            for (std::size_t j = i + 1; j < right.size(); ++j) {
                std::string wrong = right;
                std::swap(wrong[i], wrong[j]);
                if (wrong == right) continue;
                CHECK(read_typed_number(wrong).reason != TypedReason::right);
                ++swaps;
            }
        }
    }
    CHECK(substitutions == 9 * 14 * 36);
    CHECK(swaps > 600);
}

TEST_CASE("the check in a bar code catches every other digit and every swap of digits", "[match]") {
    for (const Published& p : published) {
        const std::string right = "=" + std::string(p.number) + std::to_string(p.flag);
        for (std::size_t i = 2; i < 14; ++i)
            for (char c = '0'; c <= '9'; ++c) {
                std::string wrong = right;
                wrong[i] = c;
                if (wrong == right) continue;
                CHECK(reason(wrong) == ScanReason::check_failed);
            }
        for (std::size_t i = 2; i < 14; ++i)
            for (std::size_t j = i + 1; j < 14; ++j) {
                std::string wrong = right;
                std::swap(wrong[i], wrong[j]);
                if (wrong != right) CHECK(reason(wrong) == ScanReason::check_failed);
            }
    }
}

TEST_CASE("a typed number is taken as it is printed, and the letter O stays a letter", "[match]") {
    CHECK(read_typed_number("A9999 21 123456 3").reason == TypedReason::right);
    CHECK(read_typed_number("A99992112345").reason == TypedReason::too_short);
    CHECK(read_typed_number("").reason == TypedReason::too_short);
    CHECK(read_typed_number("A999921123456").reason == TypedReason::too_short);  // the check is not optional
    CHECK(read_typed_number("A99992112345633").reason == TypedReason::too_long);
    CHECK(read_typed_number("a9999211234563").reason == TypedReason::wrong_character);
    const TypedNumber letter = read_typed_number("A99992112O4563");
    CHECK(letter.reason == TypedReason::wrong_character);
    CHECK(letter.at == 9);
    CHECK(read_typed_number("O9999211234563").at == 0);
    CHECK_FALSE(letter.number);

    // A number whose check is the letter O: the digit 0 in its place is wrong, and so the other way round.
    int letters = 0, digits = 0;
    for (int serial = 0; serial < 500; ++serial) {
        std::string text = std::to_string(1'000'000 + serial).substr(1);
        text = "A999921" + text;
        const char check = check_character(number(text));
        if (check == 'O') {
            ++letters;
            CHECK(read_typed_number(text + "O").reason == TypedReason::right);
            CHECK(read_typed_number(text + "0").reason == TypedReason::check_failed);
        } else if (check == '0') {
            ++digits;
            CHECK(read_typed_number(text + "O").reason == TypedReason::check_failed);
        }
    }
    CHECK(letters > 5);
    CHECK(digits > 5);
}

TEST_CASE("flags: the set is ignored, tubes and records are not bags", "[match]") {
    for (int flag = 0; flag < 100; ++flag) {
        const std::string text = (flag < 10 ? "0" : "") + std::to_string(flag);
        INFO(text);
        const ScanReason got = reason("=A999921123456" + text);
        if (flag >= 6 && flag <= 10)
            CHECK(got == ScanReason::not_a_bag);
        else if (flag >= 60 && flag <= 96)
            CHECK(got == (flag == 63 ? ScanReason::understood : ScanReason::check_failed));
        else
            CHECK(got == ScanReason::understood);
    }
    CHECK(reason("=A999921123456A1") == ScanReason::not_bag_data);
}

TEST_CASE("the eight groups, the codes around them, and those that carry none", "[match]") {
    // ICCBBA ST-001 table 4: each default code and its row. `=%6200` is also in its section 2.2.
    struct Row {
        int code;
        Abo abo;
        Rhd rhd;
    };
    constexpr Row rows[] = {
        {6, Abo::a, Rhd::negative},   {17, Abo::b, Rhd::negative},  {28, Abo::ab, Rhd::negative},
        {51, Abo::o, Rhd::positive},  {62, Abo::a, Rhd::positive},  {73, Abo::b, Rhd::positive},
        {84, Abo::ab, Rhd::positive}, {95, Abo::o, Rhd::negative},
    };
    constexpr LabelUse uses[] = {LabelUse::directed, LabelUse::emergency, LabelUse::directed_biohazard,
                                 LabelUse::directed_crossover, LabelUse::not_stated,
                                 LabelUse::autologous_crossover, LabelUse::autologous,
                                 LabelUse::autologous_biohazard};
    const auto group = [](const std::string& two) { return *bag_data("=%" + two + "00").group; };
    const auto digits = [](int n) { return (n < 10 ? "0" : "") + std::to_string(n); };
    std::set<int> seen;
    for (const Row& row : rows)
        for (int offset = -4; offset <= 3; ++offset) {
            const LabelGroup got = group(digits(row.code + offset));
            INFO(row.code << " " << offset);
            CHECK(got.abo == row.abo);
            CHECK(got.rhd == row.rhd);
            CHECK(got.use == uses[offset + 4]);
            CHECK(seen.insert(row.code + offset).second);
        }
    const std::pair<int, Abo> without_rhd[] = {{55, Abo::o}, {66, Abo::a}, {77, Abo::b}, {88, Abo::ab}};
    for (const auto& [n, abo] : without_rhd) {
        CHECK(group(digits(n)) == label_group(abo, std::nullopt));
        CHECK(seen.insert(n).second);
    }
    CHECK(seen.size() == 68);
    for (int n = 1; n < 100; ++n)
        if (!seen.contains(n)) {
            INFO(n);
            CHECK(group(digits(n)) == LabelGroup{std::nullopt, std::nullopt, LabelUse::not_recognised});
        }
    CHECK(group("00").use == LabelUse::no_group);
    CHECK(group("Mx").use == LabelUse::not_for_transfusion);
    CHECK(group("Mq").use == LabelUse::quarantine);
    CHECK(group("T3").use == LabelUse::tissue);
    CHECK(group("mX").use == LabelUse::not_recognised);  // capitals count
    CHECK(group("MA").use == LabelUse::not_recognised);
    CHECK(group("A3").abo == Abo::a);
    CHECK(group("A3").use == LabelUse::emergency);
    CHECK(group("A6").use == LabelUse::not_recognised);
    CHECK_FALSE(group("D2").abo);
    CHECK(reason("=%6201") == ScanReason::not_bag_data);  // the last character is reserved
    CHECK(reason("=%620") == ScanReason::not_bag_data);
    CHECK(bag_data("=%62H0").group->abo == Abo::a);  // the third one is not needed
    CHECK_FALSE(may_be_transfused(LabelUse::discard));
    CHECK(may_be_transfused(LabelUse::autologous));
    CHECK(is_reserved(LabelUse::autologous));
    CHECK_FALSE(is_reserved(LabelUse::not_stated));
}

TEST_CASE("product codes: blood only, the division is part of them", "[match]") {
    CHECK(bag_data("=<E4306V00").product->view() == "E4306V00");  // ST-001 figure 20
    CHECK(bag_data("=<EA007V00").product->view() == "EA007V00");  // not always digits
    CHECK(bag_data("=<E0398VA0").product->division() == "A0");
    CHECK(bag_data("=<E0398VAa").product->division() == "Aa");
    CHECK_FALSE(bag_data("=<E0398VA0").product == bag_data("=<E0398VB0").product);
    CHECK(bag_data("=<F0398V00").product.has_value());
    CHECK(reason("=<S1234100") == ScanReason::not_blood);
    CHECK(reason("=<X0001000") == ScanReason::not_blood);
    CHECK(reason("=<E4306V0") == ScanReason::not_bag_data);
    CHECK(reason("=<E4306V000") == ScanReason::not_bag_data);
    CHECK(reason("=<e4306V00") == ScanReason::not_bag_data);
    CHECK(reason("=<E4306V0A") == ScanReason::not_bag_data);  // the second division is a small letter
}

TEST_CASE("what is typed and what is scanned is the same value", "[match]") {
    CHECK(read_typed_product("E4306V00").product == bag_data("=<E4306V00").product);
    CHECK(read_typed_product("EA007VAa").product == bag_data("=<EA007VAa").product);
    CHECK(read_typed_product("E4306V0").reason == TypedReason::too_short);
    CHECK(read_typed_product("E4306V000").reason == TypedReason::too_long);
    CHECK(read_typed_product("E4306v0A").at == 7);
    CHECK(read_typed_product("e4306V00").at == 0);
    CHECK(read_typed_product("S4306V00").reason == TypedReason::wrong_character);  // no blood
    CHECK_FALSE(read_typed_product("S4306V00").product);
    CHECK(label_time(2026, 3, 14, HourMinute{13, 40}) == bag_data("&>0260731340").expiry);
    CHECK(label_time(2026, 3, 14, std::nullopt) == bag_data("=>026073").expiry);
    CHECK(label_time(2024, 12, 31, HourMinute{23, 59}) == bag_data("&>0243662359").expiry);
    CHECK(label_time(2024, 2, 29, std::nullopt).has_value());
    CHECK_FALSE(label_time(2026, 2, 29, std::nullopt));
    CHECK_FALSE(label_time(2026, 4, 31, std::nullopt));
    CHECK_FALSE(label_time(1999, 12, 31, std::nullopt));
    CHECK_FALSE(label_time(2026, 3, 14, HourMinute{24, 0}));
    CHECK_FALSE(label_time(2026, 3, 14, HourMinute{12, 60}));
    CHECK_FALSE(label_time(2026, 13, 1, std::nullopt));
    // Every day of the century, scanned and entered.
    for (int year = 2000; year < 2100; ++year)
        for (int day = 1; day <= 366; ++day) {
            const auto digits = [](int n, std::size_t places) {
                const std::string text = std::to_string(n);
                return std::string(places - text.size(), '0') + text;
            };
            const Scan scan = read_scan("=>0" + digits(year % 100, 2) + digits(day, 3));
            const LocalTime civil = civil_from_seconds((days_from_civil(year, 1, 1) + day - 1) * 86'400);
            REQUIRE(scan.understood() == (civil.year == year));
            if (scan.understood())
                REQUIRE(scan.data.expiry == label_time(civil.year, civil.month, civil.day, std::nullopt));
        }
}

TEST_CASE("dates: the day of the year, with and without a time", "[match]") {
    // ICCBBA ST-017 4.3.1: 019031 is 31 January 2019; an HL7 FHIR example: 014032 is 1 February 2014.
    const LabelTime day = *bag_data("=>019031").expiry;
    CHECK(day.at == LocalTime{2019, 1, 31, 23, 59, 0});
    CHECK(day.end_of_day);
    CHECK(bag_data("=>014032").expiry->at == LocalTime{2014, 2, 1, 23, 59, 0});
    const LabelTime time = *bag_data("&>0260731340").expiry;
    CHECK(time.at == LocalTime{2026, 3, 14, 13, 40, 0});
    CHECK_FALSE(time.end_of_day);
    CHECK(bag_data("&>0243662359").expiry->end_of_day);
    CHECK(bag_data("&>0243662359").expiry->at == LocalTime{2024, 12, 31, 23, 59, 0});
    CHECK(reason("&>0233662359") == ScanReason::bad_date);  // 2023 has no 366th day
    CHECK(reason("=>026000") == ScanReason::bad_date);
    CHECK(reason("=>026367") == ScanReason::bad_date);
    CHECK(reason("&>0260732400") == ScanReason::bad_date);
    CHECK(reason("&>0260731360") == ScanReason::bad_date);
    CHECK(reason("=>926073") == ScanReason::bad_date);  // another century
    CHECK(reason("=>20260731") == ScanReason::not_bag_data);
    CHECK(bag_data("=*026070").collected->at.day == 11);
    CHECK(bag_data("&*0260700915").collected->at == LocalTime{2026, 3, 11, 9, 15, 0});
    CHECK_FALSE(bag_data("=*026070").expiry);
}

TEST_CASE("a volume, where the label carries one", "[match]") {
    CHECK(bag_data("&$0101000100250000").volume == ml(250));
    CHECK(bag_data("&$0106000102505100").volume == tenths_of_ml(2505));
    CHECK_FALSE(bag_data("&$0104000100250000").volume);  // less than: no volume
    CHECK_FALSE(bag_data("&$0101000800250000").volume);  // a weight
    CHECK(bag_data("&$0201000800260000" "01000100250000").volume == ml(250));
    CHECK(reason("&$0101000100000000") == ScanReason::bad_volume);
    CHECK(bag_data("&$0101000100001100").volume == tenths_of_ml(1));
    CHECK(reason("&$0101000100009200") == ScanReason::bad_volume);  // 0.09 mL
    CHECK(bag_data("&$0101000105000000").volume == ml(5000));
    CHECK(reason("&$0101000105001000") == ScanReason::bad_volume);
    CHECK(bag_data("&$0101000125025200").volume == hundredths_of_ml(25025));
    CHECK(reason("&$0101000125025300") == ScanReason::bad_volume);  // thousandths
    CHECK(reason("&$0101000100250500") == ScanReason::bad_volume);
    CHECK(reason("&$0101000199999000") == ScanReason::bad_volume);
    CHECK(reason("&$0101000100250601") == ScanReason::not_bag_data);
    CHECK(reason("&$0101000100250600") == ScanReason::bad_volume);
    CHECK(reason("&$0201000100250000") == ScanReason::not_bag_data);
    CHECK(reason("&$00") == ScanReason::not_bag_data);
    CHECK(reason("&$0201000100250000" "01000100260000") == ScanReason::contradicts);
}

TEST_CASE("prefixes of the symbology and line ends are taken off, those of GS1 are not bags", "[match]") {
    for (const char* before : {"", "]C0", "]C4", "]d1"})
        for (const char* after : {"", "\r", "\n", "\r\n", "\t"})
            CHECK(bag_data(before + bag_scan + after).number->view() == "A999921123456");
    for (const char* before : {"]C1", "]d2", "]E0", "]Q3", "]", " ", "]C"})
        CHECK(reason(before + bag_scan) == ScanReason::not_bag_data);
    CHECK(reason(bag_scan + " ") == ScanReason::not_bag_data);
    CHECK(reason(bag_scan + "\n\n\n") == ScanReason::not_bag_data);
    CHECK(reason("") == ScanReason::empty);
    CHECK(reason("\r\n") == ScanReason::empty);
    CHECK(reason("]C0") == ScanReason::not_bag_data);
    CHECK(reason(std::string(most_scanned, '=')) == ScanReason::not_bag_data);
    CHECK(reason(std::string(most_scanned + 1, '=')) == ScanReason::too_long);
}

TEST_CASE("joined bar codes and compound messages", "[match]") {
    const LabelData pair = bag_data(bag_scan + "=%6200");
    CHECK(pair.number->view() == "A999921123456");
    CHECK(pair.group->abo == Abo::a);
    CHECK(bag_data("=<E4306V00&>0260732359").expiry->end_of_day);
    CHECK(reason(bag_scan + bag_scan) == ScanReason::understood);  // the same twice is the same
    CHECK(reason(bag_scan + "=A999921123457" "01") == ScanReason::contradicts);
    CHECK(reason(bag_scan + "=%6200=<E4306V00") == ScanReason::not_bag_data);  // three need a header
    CHECK(reason(bag_scan + "=)" "1AB1234567") == ScanReason::understood);

    // The two published compound messages (ICCBBA ST-017 4.3.1 and 4.3.2, as a third party renders them).
    for (const char* text : {"=+04000=/A9997XYZ100T0479=A99991712345600=,000012=>019031",
                             "=+04035=/A9997XYZ100T0479=,000012=A99991712345600=>019031"}) {
        const LabelData message = bag_data(text);
        CHECK(message.number->view() == "A999917123456");
        CHECK(message.expiry->at == LocalTime{2019, 1, 31, 23, 59, 0});
        CHECK_FALSE(message.number_checked);
    }
    CHECK(reason("=+05000=/A9997XYZ100T0479=A99991712345600=,000012=>019031") == ScanReason::broken_message);
    CHECK(reason("=+03000=/A9997XYZ100T0479=A99991712345600=,000012=>019031") == ScanReason::broken_message);
    CHECK(reason("=+00000") == ScanReason::broken_message);
    CHECK(reason("=+01000") == ScanReason::broken_message);
    CHECK(reason("=+0100") == ScanReason::not_bag_data);
    CHECK(reason("=+02000" + bag_scan + "=%620") == ScanReason::not_bag_data);
}

TEST_CASE("label data that is not needed is dropped, and so is a group read as its look-alike", "[match]") {
    CHECK(reason("=,000012") == ScanReason::not_needed);
    CHECK(reason("&(A0001") == ScanReason::not_needed);
    // ST-001 2.2 warns of this one: the antigens of an O negative unit begin like the group A positive.
    CHECK(reason("=\\620000000000000000") == ScanReason::not_needed);
    CHECK(reason("=%620000000000000000") == ScanReason::not_bag_data);
}

namespace {

// Invented. What a wristband, a card or a form may send: nothing of it stands for a bag.
const std::vector<std::string> wristbands = {
    "7731904455",
    "=#AB19470613",                                // a date of birth
    "&#AB10KX73190445",                            // a patient's number
    "=#AB19470613&#AB10KX73190445",                // both, joined
    "=A99992112345601=#AB19470613",                // joined to a number of a bag
    "=A99992112345601&#AB10KX73190445",
    "=#AB19470613=A99992112345601",
    "=+02000=A99992112345601&#AB10KX73190445",
    "='A9999KX7319",                               // a member of staff
    "=;A99990000000007319",                        // a donor
    "&;KX73190445",
    "&:A9997319044556677",
    "&/CH7319044556677",
    "]C1801850123456789012345",                    // GS1
    "]C180187319044556677889",
    "]d28018731904455667788972531QUILL^PETRONELLA",
    "01073190445566778018731904455667788",
    "PID|1||7319044^^^KX||QUILL^PETRONELLA||19470613|F",
    "QUILL, Petronella",
    "KX7319044",
    "{\"mrn\":\"KX7319044\"}",
    "QUILL<<PETRONELLA<<<<<<<<<<<<<<<<<<<<",
    "=QUILL7319044556",
    "=%QUIL",
    "&>QUILL73190",
    "=<QUILL731",
};

}  // namespace

TEST_CASE("no byte of a wristband is in anything that the reader returns", "[match]") {
    int looked = 0;
    for (const std::string& text : wristbands)
        for (const char* before : {"", "]C0", "]C1"})
            for (const char* after : {"", "\r", "\r\n"}) {
                const std::string scanned = before + text + after;
                INFO(scanned);
                // The whole object, with what lies between its members, as a dump of memory would show it.
                alignas(Scan) unsigned char bytes[sizeof(Scan)];
                std::memset(bytes, 0xEE, sizeof bytes);
                const Scan* scan = new (bytes) Scan(read_scan(scanned));
                CHECK_FALSE(scan->understood());
                CHECK(scan->data == LabelData{});
                const std::string_view all(reinterpret_cast<const char*>(bytes), sizeof bytes);
                for (std::size_t i = 0; i + 4 <= scanned.size(); ++i) {
                    CHECK(all.find(std::string_view(scanned).substr(i, 4)) == all.npos);
                    ++looked;
                }
                for (const std::string_view said :
                     {code(scan->reason), name(scan->reason), sentence(scan->reason)})
                    for (std::size_t i = 0; i + 4 <= text.size(); ++i)
                        CHECK(said.find(std::string_view(text).substr(i, 4)) == said.npos);
            }
    CHECK(looked > 2000);
}

TEST_CASE("every refusal is empty, whatever is thrown at the reader", "[match]") {
    const std::string alphabet = "=&]%<>*$+#;'\"(){}[]\\/:!,-CAETMXa0123456789\r\n\t ";
    const std::vector<std::string> starts = {bag_scan,     "=%6200",   "=<E4306V00",         "&>0260731340",
                                             "=*026070",   "=+02000",  "&$0101000100250000", "]C0",
                                             "=>026073",   "=,000012", "&#AB10KX73190445",   "=#AB19470613"};
    test::Random random(0x5CA9);
    int understood = 0, refused = 0;
    for (int i = 0; i < 30'000; ++i) {
        std::string text;
        for (auto n = random.between(0, 3); n > 0; --n)
            text += starts[static_cast<std::size_t>(random.between(0, static_cast<int>(starts.size()) - 1))];
        for (auto n = random.between(0, 3); n > 0 && !text.empty(); --n)
            text[static_cast<std::size_t>(random.between(0, static_cast<std::int64_t>(text.size()) - 1))] =
                alphabet[static_cast<std::size_t>(
                    random.between(0, static_cast<std::int64_t>(alphabet.size()) - 1))];
        const Scan scan = read_scan(text);
        understood += scan.understood();
        refused += !scan.understood();
        if (!scan.understood()) CHECK(scan.data == LabelData{});
        // A patient's number or date of birth in it, and nothing at all is taken.
        if (text.find("&#") != text.npos || text.find("=#") != text.npos) CHECK_FALSE(scan.understood());
    }
    CHECK(understood > 1000);
    CHECK(refused > 10'000);
}

TEST_CASE("expiry to the minute, and the end of the day", "[match]") {
    const WallClock utc(Seconds{0});
    const auto at = [](int day, int hour, int minute) {
        return Instant{(days_from_civil(2026, 3, day) * 24 + hour) * 3600 + minute * 60};
    };
    CHECK(expires_at(*bag_data("&>0260731340").expiry, utc) == at(14, 13, 40));
    CHECK(expires_at(*bag_data("=>026073").expiry, utc) == at(15, 0, 0));
    CHECK(expires_at(*bag_data("&>0260732359").expiry, utc) == at(15, 0, 0));
    CHECK(expires_at(*bag_data("&>0260732358").expiry, utc) == at(14, 23, 58));
    const WallClock east(hours(2));
    CHECK(expires_at(*bag_data("=>026073").expiry, east) == at(14, 22, 0));

    const auto early = bag_data("&>0260731340").expiry, late = bag_data("=>026073").expiry;
    CHECK(earliest_expiry(early, late) == early);
    CHECK(earliest_expiry(late, early) == early);
    CHECK(earliest_expiry(late, std::nullopt) == late);
    CHECK(earliest_expiry(std::nullopt, early) == early);
    CHECK_FALSE(earliest_expiry(std::nullopt, std::nullopt));
}

TEST_CASE("an expiry in an hour that the clock jumps over or shows twice is the earlier one", "[match]") {
    const Instant midnight{days_from_civil(2026, 3, 29) * 86'400};
    WallClock forward(hours(1));
    REQUIRE(forward.add_change(midnight + hours(1), hours(2)));  // 02:00 becomes 03:00
    CHECK(expires_at(*bag_data("&>0260880230").expiry, forward) == midnight + hours(1) - Seconds{60});
    CHECK(expires_at(*bag_data("&>0260880300").expiry, forward) == midnight + hours(1));
    WallClock back(hours(2));
    REQUIRE(back.add_change(midnight + hours(1), hours(1)));  // 03:00 becomes 02:00
    CHECK(expires_at(*bag_data("&>0260880230").expiry, back) == midnight + minutes(30));
}
