#include "core/rehearse/cards.hpp"

#include "core/rehearse/debrief.hpp"
#include "core/rehearse/run.hpp"
#include "core/words/format.hpp"
#include "core/words/match_words.hpp"
#include "core/words/rehearse_words.hpp"
#include "core/words/words.hpp"

namespace hangtime {

namespace {

constexpr std::string_view mark = "PRACTICE, NOT FOR TRANSFUSION";

// The eight groups with their codes where no use is stated: ST-001, table of blood groups.
struct Group { std::string_view code, words; };
constexpr Group groups[] = {{"06", "A, RhD negative"}, {"17", "B, RhD negative"}, {"28", "AB, RhD negative"}, {"51", "O, RhD positive"},
                            {"62", "A, RhD positive"}, {"73", "B, RhD positive"}, {"84", "AB, RhD positive"}, {"95", "O, RhD negative"}};

std::string digits(std::int64_t n, std::size_t wide) {
    std::string out = std::to_string(n);
    return out.size() < wide ? std::string(wide - out.size(), '0') + out : out;
}

std::int64_t drawn(std::int32_t seed, std::size_t salt, std::uint64_t more, std::int64_t below) {
    return (varied(seed, salt, more, below) + below) % below;
}

void set_expiry(PracticeLabel& out, const LocalTime& at) {
    const std::int64_t day = days_from_civil(at.year, at.month, at.day) - days_from_civil(at.year, 1, 1) + 1;
    out.expiry = joined({digits(at.year % 1000, 3), digits(day, 3), digits(at.hour, 2), digits(at.minute, 2)});
    out.expiry_words = joined({digits(at.year, 4), "-", digits(at.month, 2), "-", digits(at.day, 2), " ", digits(at.hour, 2), ":",
                               digits(at.minute, 2)});
}

char next_digit(char c) { return c == '9' ? '0' : static_cast<char>(c + 1); }

PracticeLabel label_of(const Scenario& s, std::int32_t seed, std::size_t index) {
    const Happening& h = s.happenings[index];
    const auto* issued = h.record ? std::get_if<facts::Issued>(&h.record->facts) : nullptr;
    PracticeLabel out;
    out.component = issued ? issued->component : s.ordered.component;
    out.bag = issued ? issued->bag : s.ordered.expected.value_or(ml(300));
    // As the rehearsal itself draws it.
    out.bag = out.bag + ml(varied(seed, index + 1, 2, h.vary_volume.units / ml(1).units));
    std::string last = digits(drawn(seed, index + 1, 11, 10'000), 4);
    if (issued && issued->digits)
        for (std::size_t i = 0; i < last.size(); ++i)
            if ((*issued->digits)[i] >= '0' && (*issued->digits)[i] <= '9') last[i] = (*issued->digits)[i];
    const LocalTime begins = s.wall.local(s.begins);
    out.number = joined({"A999", digits(drawn(seed, 0, 12, 10), 1), digits(begins.year % 100, 2), digits(drawn(seed, index + 1, 13, 100), 2), last});
    // A code of the part that is set aside for local use: nobody's product.
    out.product = joined({"A000", digits(static_cast<int>(out.component) + 1, 1), "V00"});
    const Group& group = groups[static_cast<std::size_t>(drawn(seed, 0, 14, 8))];
    out.group = group.code;
    out.group_words = group.words;
    LocalTime expires = s.wall.local(s.begins + Seconds{86'400 * (2 + drawn(seed, index + 1, 15, 20))});
    expires.hour = 23;
    expires.minute = 59;
    if (issued && issued->expires) expires = s.wall.local(issued->expires->at);
    set_expiry(out, expires);
    return out;
}

// What a rehearsal calls "one character differs", on the label of another unit that is valid by itself.
PracticeLabel differing(PracticeLabel tag, MatchField field) {
    switch (field) {
    case MatchField::donation_number: tag.number[11] = next_digit(tag.number[11]); break;
    case MatchField::product_code: tag.product[3] = next_digit(tag.product[3]); break;
    case MatchField::unit_group:
        for (std::size_t i = 0; i < std::size(groups); ++i)
            if (groups[i].code == tag.group) {
                const Group& other = groups[(i + 4) % std::size(groups)];
                tag.group = other.code;
                tag.group_words = other.words;
                break;
            }
        break;
    case MatchField::expiry:
        tag.expiry[9] = tag.expiry[9] == '9' ? '8' : '9';
        tag.expiry_words.back() = tag.expiry[9];
        break;
    case MatchField::names:
    case MatchField::birth_date:
    case MatchField::person_number:
    case MatchField::recipient_group:
    case MatchField::component:
    case MatchField::requirements: break;  // not in a bar code
    }
    return tag;
}

char check_of(const PracticeLabel& label) {
    DonationNumber number;
    for (std::size_t i = 0; i < number.text.size(); ++i) number.text[i] = label.number[i];
    return check_character(number);
}

std::string number_words(const PracticeLabel& label) {
    const std::string& n = label.number;
    return joined({n.substr(0, 5), " ", n.substr(5, 2), " ", n.substr(7), "   [", std::string(1, check_of(label)), "]"});
}

sheet::Card card_of(std::string_view what, const PracticeLabel& label, bool is_tag) {
    sheet::Card card;
    card.title = joined({what, ": ", lower_first(name(label.component))});
    card.mark = mark;
    const std::vector<std::string> codes = bar_codes_of(label);
    card.symbols = {{"Donation number", codes[0], number_words(label)},
                    {"Group", codes[1], label.group_words},
                    {"Product code", codes[2], label.product},
                    {"Expires", codes[3], label.expiry_words}};
    if (!is_tag) card.symbols.push_back({"Volume", codes[4], volume_text(label.bag)});
    if (is_tag) {
        card.facts.push_back({"For a person of group", label.group_words});
        card.facts.push_back({"Who it is for", "as the exercise says; nobody real"});
    }
    return card;
}

}  // namespace

std::vector<std::string> bar_codes_of(const PracticeLabel& label) {
    constexpr std::string_view alphabet = "0123456789ABCDEFGHIJKLMNOPQRSTUVWXYZ*";
    const std::size_t check = alphabet.find(check_of(label));
    const bool whole = label.bag.units % ml(1).units == 0;
    const std::int64_t value = label.bag.units / (whole ? ml(1).units : tenths_of_ml(1).units);
    return {joined({"=", label.number, digits(static_cast<std::int64_t>(60 + check), 2)}), joined({"=%", label.group, "00"}),
            joined({"=<", label.product}), joined({"&>", label.expiry}),
            joined({"&$01010001", digits(value, 5), whole ? "0" : "1", "00"})};
}

std::vector<PracticeBag> practice_bags(const Scenario& s, std::int32_t seed) {
    std::vector<PracticeBag> out;
    for (std::size_t i = 0; i < s.happenings.size(); ++i) {
        const Happening& h = s.happenings[i];
        if (h.kind != WorldKind::bag_arrives && h.kind != WorldKind::wrong_component && h.kind != WorldKind::second_bag) continue;
        const PracticeLabel bag = label_of(s, seed, i);
        out.push_back({h.id, bag, bag});
    }
    for (const Happening& h : s.happenings)
        if (h.kind == WorldKind::tag_differs && h.field && !out.empty()) out.front().tag = differing(out.front().tag, *h.field);
    return out;
}

sheet::Document practice_cards(const Scenario& s, std::int32_t seed) {
    sheet::Document d;
    d.title = joined({"Practice cards, case ", std::to_string(case_number(s, seed))});
    d.cautions({joined({rehearsal_sentence(), "."}),
                "The numbers are valid in form, under issuer numbers that are set aside for tests. Keep the cards away from wards: no "
                "card belongs on a bag, and no bag of blood beside them.",
                "The symbols follow ISBT 128; a facility that uses it is registered with ICCBBA."});
    const std::vector<PracticeBag> bags = practice_bags(s, seed);
    if (bags.empty()) d.paragraph("No bag comes in this rehearsal.");
    for (std::size_t i = 0; i < bags.size(); ++i) {
        const std::string n = bags.size() > 1 ? joined({" ", std::to_string(i + 1)}) : std::string();
        d.card(card_of(joined({"Bag", n}), bags[i].bag, false));
        d.card(card_of(joined({"Tag of bag", n}), bags[i].tag, true));
    }
    d.part("For the educator: keep this page back");
    d.fact("Scenario", s.title);
    d.fact("Seed", std::to_string(seed));
    for (std::size_t i = 0; i < bags.size(); ++i) {
        std::string line = joined({"Bag ", std::to_string(i + 1)});
        for (const Happening& h : s.happenings)
            if (h.id == bags[i].happening) line += joined({": ", happening_text(h)});
        if (bar_codes_of(bags[i].bag) != bar_codes_of(bags[i].tag)) line += "; its tag is not the bag's";
        d.item(line);
    }
    return d;
}

}  // namespace hangtime
