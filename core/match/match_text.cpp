#include "core/match/match_text.hpp"

#include "core/words/match_words.hpp"

namespace hangtime {

namespace {

std::string places_text(PlaceSet places) {
    std::string out;
    int left = 0;
    for (int i = 0; i < match_place_count; ++i) left += places.has(static_cast<MatchPlace>(i));
    for (int i = 0; i < match_place_count; ++i) {
        const auto place = static_cast<MatchPlace>(i);
        if (!places.has(place)) continue;
        --left;
        out += (out.empty() ? "the " : left == 0 ? " and the " : ", the ") + std::string(name(place));
    }
    return out;
}

std::string field_text(MatchField field) {
    std::string out(name(field));
    out[0] = static_cast<char>(out[0] - 'A' + 'a');  // every name begins with a capital; a test says so
    return out;
}

std::string capital(std::string text) {
    if (!text.empty() && text[0] >= 'a' && text[0] <= 'z') text[0] = static_cast<char>(text[0] - 'a' + 'A');
    return text;
}

// "First person", and for those who work one after the other "First person, alone".
std::string person_text(MatchPerson person, MatchPeople people) {
    return capital(std::string(name(person))) + (people == MatchPeople::two_independent ? ", alone: " : ": ");
}

// In an emergency: what the bag itself has to say.
std::string read_text(MatchField field) {
    std::string out = "read the " + field_text(field) + " on the bag";
    switch (field) {
        case MatchField::component: return out + ": it is what was asked for.";
        case MatchField::unit_group: return out + ": it is O.";
        case MatchField::expiry: return out + ": it has not passed.";
        case MatchField::donation_number:
            return out + " and have it recorded as your rule for emergencies says.";
        case MatchField::names:
        case MatchField::birth_date:
        case MatchField::person_number:
        case MatchField::recipient_group:
        case MatchField::product_code:
        case MatchField::requirements: break;
    }
    return out + ".";
}

std::string task_text(const MatchStep& step, MatchPeople people) {
    switch (step.kind) {
        case MatchStepKind::ask_person:
            return "ask the person to say their full name and date of birth, without saying it first. "
                   "Compare what they say with the wristband on them.";
        case MatchStepKind::ask_companion:
            return "ask somebody who knows the person to say their full name and date of birth. Compare what "
                   "they say with the wristband on the person.";
        case MatchStepKind::wristband_only:
            return "the person cannot say who they are. Follow your own rule for that, and read the "
                   "wristband on the person.";
        case MatchStepKind::look: return "look at the bag.";
        case MatchStepKind::read: return read_text(step.field);
        case MatchStepKind::compare: break;
    }
    const std::string what = "the " + field_text(step.field);
    if (people == MatchPeople::two_read_back)
        return "read " + what + " aloud from the " + std::string(name(step.from)) + ". " +
               person_text(step.comparer, people) + "compare it with " + places_text(step.against) + ".";
    return "read " + what + " on the " + std::string(name(step.from)) + " and compare it with " +
           places_text(step.against) + ".";
}

}  // namespace

std::string match_step_text(const MatchStep& step, MatchPeople people) {
    const std::string task = task_text(step, people);
    return people == MatchPeople::one ? capital(task) : person_text(step.reader, people) + task;
}

std::string comparison_text(const FieldComparison& c) {
    const auto character = [](std::string_view text, std::size_t i) {
        return i < text.size() ? std::string(1, text[i]) : std::string("nothing");
    };
    const std::string_view bag = c.bag.view(), tag = c.tag.view();
    switch (c.agreement) {
        case Agreement::same: return std::string(name(c.agreement));
        case Agreement::cannot_tell:
            if (bag.empty() && tag.empty()) return "cannot tell: neither is read";
            if (bag.empty() || tag.empty())
                return std::string("cannot tell: the ") + (bag.empty() ? "bag" : "tag") + " is not read";
            return "cannot tell: not all of it is stated";
        case Agreement::differs: break;
    }
    std::string where, on_bag, on_tag;
    int count = 0, last = 0;
    for (int i = 0; i < static_cast<int>(ShownText::most); ++i)
        if (c.differs_at(static_cast<std::size_t>(i))) ++count, last = i;
    for (int i = 0; i <= last; ++i) {
        const auto at = static_cast<std::size_t>(i);
        if (!c.differs_at(at)) continue;
        if (!where.empty()) {
            where += i == last ? " and " : ", ";
            on_bag += " ";
            on_tag += " ";
        }
        where += std::to_string(i + 1);
        on_bag += character(bag, at);
        on_tag += character(tag, at);
    }
    return (count == 1 ? "differs at character " : "differs at characters ") + where + ": bag " + on_bag +
           ", tag " + on_tag;
}

}  // namespace hangtime
