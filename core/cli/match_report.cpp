#include "core/cli/match_report.hpp"

#include "core/json/write.hpp"
#include "core/match/compatible.hpp"
#include "core/match/look.hpp"
#include "core/plan/plan_words.hpp"
#include "core/words/format.hpp"
#include "core/words/match_words.hpp"
#include "core/words/words.hpp"

#include <array>

namespace hangtime::cli {

namespace {

using json::Writer;
using sheet::Document;
using sheet::Role;
using sheet::Table;

std::string padded(int n, std::size_t digits) {
    std::string out = std::to_string(n);
    return std::string(out.size() < digits ? digits - out.size() : 0, '0') + out;
}

std::string local_text(const LocalTime& t, char between) {
    return padded(t.year, 4) + "-" + padded(t.month, 2) + "-" + padded(t.day, 2) + between +
           padded(t.hour, 2) + ":" + padded(t.minute, 2);
}

std::string time_text(const LabelTime& t) {
    return local_text(t.at, ' ') + (t.end_of_day ? ", end of the day" : "");
}

std::string group_said(const LabelGroup& group) {
    std::string out = group.abo || group.rhd ? group_text(group.abo, group.rhd) : std::string();
    if (group.use != LabelUse::not_stated) out += (out.empty() ? "" : "; ") + std::string(name(group.use));
    return out;
}

void fact(std::string& out, std::string_view label, std::string_view value) {
    constexpr std::size_t width = 18;
    out += "   " + std::string(label);
    out += std::string(label.size() < width ? width - label.size() : 1, ' ') + std::string(value) + "\n";
}

void add_understood(std::string& out, const LabelData& d) {
    if (d.number) {
        fact(out, name(MatchField::donation_number),
             std::string(d.number->view()) + ", check character " + check_character(*d.number));
        if (d.number_checked) fact(out, "", "the check in the bar code fits");
    }
    if (d.group) fact(out, "Group", group_said(*d.group));
    if (d.product)
        fact(out, "Product code",
             std::string(d.product->view()) + ", division " + std::string(d.product->division()));
    if (d.expiry) fact(out, name(MatchField::expiry), time_text(*d.expiry));
    if (d.collected) fact(out, "Collected", time_text(*d.collected));
    if (d.volume) fact(out, "Volume", volume_text(*d.volume));
}

class ScanWriter {
public:
    std::string write(const std::vector<Scan>& scans) {
        w_.begin_object().integer("hangtime_scan", 1).key("scans").begin_list();
        for (const Scan& scan : scans) {
            w_.begin_object().text("result", code(scan.reason));
            if (scan.understood()) understood(scan.data);
            w_.end_object();
        }
        w_.end_list().end_object();
        return w_.take();
    }

private:
    void text_or_null(std::string_view key, std::string_view text) {
        if (text.empty()) w_.null(key);
        else w_.text(key, text);
    }

    void time(std::string_view key, const std::optional<LabelTime>& t) {
        if (!t) {
            w_.null(key);
            return;
        }
        w_.key(key).begin_object(Writer::Layout::along).text("local", local_text(t->at, 'T'));
        w_.boolean("end_of_day", t->end_of_day).end_object();
    }

    void understood(const LabelData& d) {
        text_or_null("number", d.number ? d.number->view() : std::string_view());
        text_or_null("check", d.number ? std::string(1, check_character(*d.number)) : std::string());
        w_.boolean("number_checked", d.number_checked);
        if (d.group) {
            w_.key("group").begin_object(Writer::Layout::along);
            text_or_null("abo", d.group->abo ? code(*d.group->abo) : std::string_view());
            text_or_null("rhd", d.group->rhd ? code(*d.group->rhd) : std::string_view());
            w_.text("use", code(d.group->use)).end_object();
        } else {
            w_.null("group");
        }
        text_or_null("product", d.product ? d.product->view() : std::string_view());
        time("expiry", d.expiry);
        time("collected", d.collected);
        if (d.volume) w_.decimal("volume_ml", d.volume->units / (units_per_ml / 10'000), 4);
        else w_.null("volume_ml");
    }

    Writer w_;
};

// --- Compatibility ---

constexpr std::array<std::optional<Abo>, 5> recipients = {Abo::o, Abo::a, Abo::b, Abo::ab, std::nullopt};
constexpr std::array<Abo, abo_count> units = {Abo::o, Abo::a, Abo::b, Abo::ab};
constexpr std::array<std::optional<Rhd>, 3> rhds = {Rhd::negative, Rhd::positive, std::nullopt};
constexpr std::array<Answer, 2> listed_answers = {Answer::no, Answer::yes};

std::string_view who(std::optional<Abo> abo) { return abo ? name(*abo) : "not known, emergency"; }
std::string_view who(std::optional<Rhd> rhd) { return rhd ? name(*rhd) : "not known, emergency"; }

class Asker {
public:
    Asker(const Protocol& protocol, Component component)
        : rules_(protocol.match ? &protocol.match->compatibility : nullptr), component_(component),
          child_(protocol.children ? Answer::yes : Answer::no) {}

    Judged abo(std::optional<Abo> recipient, Abo unit, Answer low_titre) const {
        return ask(recipient, Rhd::negative, Answer::no, label_group(unit, Rhd::negative), low_titre).abo;
    }
    /// An emergency is asked about where no group is known; for those known it is `emergency`.
    Judged rhd(std::optional<Rhd> recipient, Answer listed, Rhd unit, bool emergency) const {
        const auto abo = recipient ? std::optional<Abo>(Abo::o) : std::nullopt;
        return ask(abo, recipient, listed, label_group(Abo::o, unit), Answer::yes, emergency).rhd;
    }
    const CompatibilityRules* rules() const { return rules_; }

private:
    Compatibility ask(std::optional<Abo> abo, std::optional<Rhd> rhd, Answer listed, const LabelGroup& unit,
                      Answer low_titre, bool emergency = false) const {
        RecipientFacts r;
        r.abo = abo;
        r.rhd = rhd;
        r.infant = r.transplant = Answer::no;
        r.child = child_;
        r.rhd_listed = listed;
        r.emergency = emergency || !abo;
        r.required = RequirementSet{};
        return judge_compatibility(rules_, r, {component_, unit, low_titre, RequirementSet{}});
    }

    const CompatibilityRules* rules_;
    Component component_;
    Answer child_;
};

// "yes", "low titre only, by local rule", ...
std::string cell(const Judged& without_titre, const Judged& with_titre) {
    if (without_titre.is == Compatible::no && with_titre.is == Compatible::local_rule)
        return "low titre, " + std::string(name(Compatible::local_rule));
    return std::string(name(without_titre.is));
}

bool rhd_counts(Component c) { return c != Component::plasma && c != Component::cryoprecipitate; }

std::string list_words(const CompatibilityRules& rules) {
    return "Listed: those who must have RhD negative if they are RhD negative: anti-D, regular transfusions, "
           "female up to " +
           std::to_string(rules.rhd_female_up_to_years) + " years, male up to " +
           std::to_string(rules.rhd_male_up_to_years) + " years.";
}

void add_reasons(Document& document, const std::vector<Judged>& seen) {
    std::vector<std::string> items;
    for (int i = 0; i < code_count<CompatibleReason>(); ++i) {
        const auto why = static_cast<CompatibleReason>(i);
        for (const Judged& j : seen)
            if (j.why == why && j.is != Compatible::yes) {
                items.push_back(std::string(sentence(why)));
                break;
            }
    }
    if (items.empty()) return;
    document.heading("Why");
    document.list(std::move(items));
}

}  // namespace

bool recognised(const Scan& scan) {
    return scan.understood() && !(scan.data.group && scan.data.group->use == LabelUse::not_recognised);
}

std::string scans_text(const std::vector<Scan>& scans) {
    std::string out;
    for (std::size_t i = 0; i < scans.size(); ++i) {
        const Scan& scan = scans[i];
        const bool partly = scan.understood() && !recognised(scan);
        out += std::to_string(i + 1) + ": " + (partly ? "read, but not recognised" : std::string(name(scan.reason))) + "\n";
        if (scan.understood()) add_understood(out, scan.data);
        fact(out, "", sentence(scan.reason));
    }
    return out;
}

std::string scans_json(const std::vector<Scan>& scans) { return ScanWriter().write(scans); }

Document compatible_sheet(const Protocol& protocol, Component component) {
    const Asker ask(protocol, component);
    Document document;
    document.title = "Which groups fit: " + std::string(name(component));
    document.fact("Rules", rules_text(protocol));
    document.fact("For", protocol.children ? "a child over four months, no stem-cell transplant"
                                           : "an adult, no stem-cell transplant");
    std::vector<Judged> seen;
    Table abo{"ABO", {{"Recipient", Role::text}}, {}};
    for (const Abo unit : units) abo.add_column("Unit " + std::string(name(unit)));
    for (const auto& recipient : recipients) {
        abo.add_row({who(recipient)});
        for (const Abo unit : units) {
            const Judged plain = ask.abo(recipient, unit, Answer::no);
            const Judged titre = ask.abo(recipient, unit, Answer::yes);
            seen.push_back(plain);
            seen.push_back(titre);
            abo.add_cell(cell(plain, titre));
        }
    }
    document.table(std::move(abo));
    if (rhd_counts(component)) {
        Table rhd{"RhD", {{"Recipient", Role::text}}, {}};
        for (const char* heading :
             {"Unit RhD negative", "Unit RhD positive", "RhD positive, in an emergency"})
            rhd.add_column(heading);
        for (const auto& recipient : rhds)
            for (const Answer listed : listed_answers) {
                if (recipient == Rhd::positive && listed == Answer::yes) continue;
                std::string label(who(recipient));
                if (recipient != Rhd::positive) label += listed == Answer::yes ? ", listed" : ", not listed";
                rhd.add_row({label});
                for (const auto& [unit, emergency] : {std::pair(Rhd::negative, false),
                                                      std::pair(Rhd::positive, false),
                                                      std::pair(Rhd::positive, true)}) {
                    const Judged got = ask.rhd(recipient, listed, unit, emergency);
                    seen.push_back(got);
                    rhd.add_cell(name(got.is));
                }
            }
        document.table(std::move(rhd));
        if (ask.rules()) document.paragraph(list_words(*ask.rules()));
    } else {
        document.paragraph(std::string(sentence(CompatibleReason::rhd_not_needed)));
    }
    add_reasons(document, seen);
    document.heading("Always");
    document.list({std::string(sentence(CompatibleReason::infant)),
                   std::string(sentence(CompatibleReason::transplant)),
                   std::string(sentence(CompatibleReason::group_missing)),
                   std::string(sentence(CompatibleReason::group_conflicts)),
                   std::string(sentence(CompatibleReason::requirement_not_met))});
    return document;
}

std::string compatible_json(const Protocol& protocol, Component component) {
    const Asker ask(protocol, component);
    Writer w;
    w.begin_object().integer("hangtime_compatible", 1).text("component", code(component));
    w.text("protocol", protocol.id).boolean("adopted", protocol.adopted);
    w.boolean("child", protocol.children).boolean("rules", protocol.match.has_value());
    const auto answer = [&w](const Judged& got) {
        w.text("answer", code(got.is)).text("why", code(got.why)).text("text", sentence(got.why));
        w.end_object();
    };
    const auto text_or_null = [&w](std::string_view key, std::string_view text) {
        if (text.empty()) w.null(key);
        else w.text(key, text);
    };
    w.key("abo").begin_list();
    for (const auto& recipient : recipients)
        for (const Abo unit : units)
            for (const Answer titre : {Answer::not_recorded, Answer::no, Answer::yes}) {
                w.begin_object(Writer::Layout::along);
                text_or_null("recipient", recipient ? code(*recipient) : std::string_view());
                w.text("unit", code(unit)).text("low_titre", code(titre));
                answer(ask.abo(recipient, unit, titre));
            }
    w.end_list().key("rhd").begin_list();
    for (const auto& recipient : rhds)
        for (const Answer listed : {Answer::not_recorded, Answer::no, Answer::yes})
            for (const Rhd unit : {Rhd::negative, Rhd::positive})
                for (const bool emergency : {false, true}) {
                    if (!recipient && !emergency) continue;
                    w.begin_object(Writer::Layout::along);
                    text_or_null("recipient", recipient ? code(*recipient) : std::string_view());
                    w.text("listed", code(listed)).text("unit", code(unit)).boolean("emergency", emergency);
                    answer(ask.rhd(recipient, listed, unit, emergency));
                }
    w.end_list().key("cautions").begin_list();
    for (std::size_t i = 0; i < caution_count; ++i) w.text(caution(i));
    w.end_list().end_object();
    return w.take();
}

}  // namespace hangtime::cli
