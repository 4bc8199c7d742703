#include "core/plan/draft_sheet.hpp"

#include "core/plan/plan_sheet.hpp"
#include "core/plan/plan_words.hpp"
#include "core/words/format.hpp"
#include "core/words/words.hpp"

namespace hangtime {

namespace {

using namespace rounds;

std::string known(const std::optional<Instant>& at, const DayClock& day) {
    return at ? clock_text(*at, day) : std::string(not_recorded_text);
}

std::string known(const std::optional<Component>& c) { return std::string(c ? name(*c) : not_recorded_text); }

std::string known_volume(const std::optional<std::int64_t>& tenths) {
    return tenths ? volume_text(tenths_of_ml(*tenths)) : std::string(not_recorded_text);
}

std::string minutes_text(const std::optional<std::int64_t>& min) {
    return min ? span_text(minutes(*min)) : std::string("by the rules");
}

std::string person_text(Answer risk, Answer report, const std::optional<std::int64_t>& weight_tenths) {
    return joined({"at risk of overload: ", name(risk), "; can report symptoms: ", name(report), "; weight: ",
                   weight_tenths ? mass_text({*weight_tenths * 100}) : std::string(not_recorded_text)});
}

std::string object_name(SpokenObject object) {
    std::string out(name(object));
    if (!out.empty() && out[0] >= 'a' && out[0] <= 'z') out[0] = static_cast<char>(out[0] - 'a' + 'A');
    return out;
}

// What both begin and end with.
void begin(sheet::Document& document, const Protocol* rules, std::string_view refused) {
    document.fact("Rules", rules ? rules_text(*rules) : "not chosen");
    document.headline("Entries only: nothing is planned by them yet.");
    document.paragraph(refused.empty() ? std::string("Nothing is missing.")
                                       : joined({"Missing or wrong: ", refused}));
}

void end(sheet::Document& document, const Protocol* rules) {
    if (rules) add_rules_and_cautions(document, *rules);
    else document.cautions({std::string(caution(0))});
}

std::string stretch_text(const DraftStretch& s, const DayClock& day) {
    return joined({known(s.from, day), " to ", known(s.until, day)});
}

std::string stretches_text(const DraftStretch* two, const DayClock& day) {
    std::string out;
    for (int i = 0; i < 2; ++i)
        if (!two[i].empty()) out += joined({out.empty() ? "" : ", ", stretch_text(two[i], day)});
    return out.empty() ? "none" : out;
}

std::string link_text(const DraftTransfusion& t) {
    const std::string other = object_name(*t.person_of);
    switch (t.link) {
        case PersonLink::follows: return joined({"same person as ", other, ", after it"});
        case PersonLink::same_person: return joined({"same person as ", other, ", in either order"});
        case PersonLink::beside: return joined({"same person as ", other, ", at once, over two lines"});
    }
    return {};
}

}  // namespace

sheet::Document round_entries_sheet(const Draft& draft, const Protocol* rules, std::string_view refused) {
    sheet::Document document;
    document.title = "Entries of a round";
    document.start = draft.from.value_or(Instant{});
    const DayClock day(draft.wall, document.start);
    begin(document, rules, refused);
    document.fact("The round", joined({known(draft.from, day), " to ", known(draft.until, day)}));
    document.fact("Second person at the match", draft.second_from_round ? "another nurse of the round"
                                                                        : "somebody outside the round");
    sheet::Table nurses;
    nurses.caption = "Nurses";
    for (const char* heading : {"Who", "There", "Breaks", "Hand-overs"}) nurses.add_column(heading);
    for (std::size_t k = 0; k < draft.nurses.size(); ++k) {
        const DraftNurse& n = draft.nurses[k];
        nurses.add_row({"Nurse " + std::to_string(k + 1), stretch_text(n.hours, day), stretches_text(n.rest, day),
                        stretches_text(n.handover, day)});
    }
    document.table(std::move(nurses));
    sheet::Table table;
    table.caption = "Transfusions";
    table.add_column("Object");
    table.add_column("Component");
    table.add_column("Bag", sheet::Role::number);
    table.add_column("Call from", sheet::Role::time);
    table.add_column("Call by", sheet::Role::time);
    for (const char* heading : {"Over", "At most", "Weight of its finish"}) table.add_column(heading);
    for (const DraftTransfusion& t : draft.transfusions)
        table.add_row({object_name(t.object), known(t.component), known_volume(t.bag_tenths), known(t.earliest, day),
                       known(t.latest, day), minutes_text(t.within_min),
                       t.most_tenths ? rate_text(tenths_of_ml_per_h(*t.most_tenths)) : std::string("by the rules"),
                       std::to_string(t.weight.value_or(1))});
    document.table(std::move(table));
    for (const DraftTransfusion& t : draft.transfusions) {
        std::string text = object_name(t.object) + ": ";
        text += t.person_of ? link_text(t) : person_text(t.overload_risk, t.can_report, t.weight_tenths);
        if (t.other_line_tenths)
            text += joined({"; another line into the same person: ", rate_text(tenths_of_ml_per_h(*t.other_line_tenths))});
        if (t.ready_min || t.transport_min)
            text += joined({"; from the call to issue: ", minutes_text(t.ready_min), ", to the ward: ",
                            minutes_text(t.transport_min)});
        if (t.promised_start)
            text += joined({"; promised for ", known(t.promised_start, day), " with Nurse ",
                            std::to_string(t.promised_nurse + 1)});
        if (t.happened.issued) text += "; issued at " + known(t.happened.issued, day);
        if (t.happened.started) text += "; started at " + known(t.happened.started, day);
        if (t.happened.reaction) text += "; stopped, suspected reaction, at " + known(t.happened.reaction, day);
        document.item(text + ".");
    }
    end(document, rules);
    return document;
}

sheet::Document sequence_entries_sheet(const SequenceDraft& draft, const Protocol* rules, std::string_view refused) {
    sheet::Document document;
    document.title = "Entries of a sequence";
    document.start = draft.first_start.value_or(Instant{});
    const DayClock day(draft.wall, document.start);
    begin(document, rules, refused);
    document.fact("First one starts", known(draft.first_start, day));
    document.fact("Everything over by", draft.over_by ? clock_text(*draft.over_by, day) : "no such hour");
    sheet::Table table;
    table.caption = "Units";
    table.add_column("Unit", sheet::Role::number);
    table.add_column("Component");
    table.add_column("Bag", sheet::Role::number);
    table.add_column("Over");
    for (std::size_t i = 0; i < draft.units.size(); ++i) {
        const SequenceDraftUnit& u = draft.units[i];
        table.add_row({std::to_string(i + 1), known(u.component), known_volume(u.bag_tenths), minutes_text(u.within_min)});
    }
    document.table(std::move(table));
    document.item("The person: " + person_text(draft.overload_risk, draft.can_report, draft.weight_tenths) + ".");
    if (draft.other_line_tenths)
        document.item(joined({"Another line into the same person: ",
                              rate_text(tenths_of_ml_per_h(*draft.other_line_tenths)), "."}));
    if (draft.set_hung)
        document.item(joined({"A set in use, hung at ", known(draft.set_hung, day), "; it carried last: ",
                              known(draft.set_last), "."}));
    if (draft.ready_min || draft.transport_min)
        document.item(joined({"From the call to issue: ", minutes_text(draft.ready_min), ", to the ward: ",
                              minutes_text(draft.transport_min), "."}));
    end(document, rules);
    return document;
}

}  // namespace hangtime
