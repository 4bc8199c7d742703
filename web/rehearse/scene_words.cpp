// What a learner hears and sees when something happens: invented sentences, as a colleague or the person would say them.

#include "core/words/observe_words.hpp"
#include "core/words/words.hpp"
#include "web/rehearse/scene.hpp"

namespace hangtime::rehearse {

namespace {

std::string symptoms_of(const Happening& h) {
    std::string out;
    for (const SignsAfter& point : h.signs) {
        if (!point.set.symptoms)
            continue;
        for (int i = 0; i < symptom_count; ++i)
            if (point.set.symptoms->has(static_cast<Symptom>(i)))
                out += joined({out.empty() ? "" : ", ", lower_first(name(static_cast<Symptom>(i)))});
        break; // what is said at first
    }
    return out;
}

std::string bag_text(const facts::Issued& bag) {
    std::string out = joined({lower_first(name(bag.component)), ", ", volume_text(bag.bag)});
    if (bag.digits)
        out += joined({", and the number ends in ", std::string_view(bag.digits->data(), 4)});
    return out;
}

} // namespace

std::string spoken_text(const Happening& h, const facts::Issued* bag) {
    switch (h.kind) {
    case WorldKind::bag_arrives:
    case WorldKind::wrong_component:
    case WorldKind::second_bag:
        return bag ? joined({h.kind == WorldKind::second_bag ? "Another bag is brought. " : "A bag is brought. ",
                             "Its label says: ", bag_text(*bag), "."})
                   : std::string("A bag is brought.");
    case WorldKind::checker_away: return "The second checker is called away. You are alone at the bedside.";
    case WorldKind::checker_back: return "The second checker is at the bedside again.";
    case WorldKind::pump_stops: return "The device says: not running, flow is blocked.";
    case WorldKind::line_fails: return "The person says that the arm stings. Round the cannula it is swollen and cool.";
    case WorldKind::line_works: return "A new cannula is in, and it flushes easily.";
    case WorldKind::complaint: {
        const std::string symptoms = symptoms_of(h);
        return symptoms.empty() ? std::string("The person says that something is not right.")
                                : joined({"The person tells you, or you see: ", symptoms, "."});
    }
    case WorldKind::refusal: return "The person says: I do not want this any more.";
    case WorldKind::word_to_go_on: return "A clinician has seen the person and says: it may go on.";
    case WorldKind::handover: return "The shift ends. A colleague comes to take over.";
    case WorldKind::move: return "The porter is here: the person is taken to another place.";
    case WorldKind::order_changes: return "The order has been changed.";
    case WorldKind::discuss: return "Pause. Talk about what has just happened, and about what comes next.";
    case WorldKind::drug_asked_for: return "A colleague asks: can I give a drug through the same line?";
    case WorldKind::tag_differs:
    case WorldKind::signs_change: break;
    }
    return {};
}

} // namespace hangtime::rehearse
