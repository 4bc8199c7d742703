#include "web/screens/bag_and_tag.hpp"

#include "core/match/expiry.hpp"
#include "core/words/match_words.hpp"
#include "core/words/words.hpp"
#include "web/input/wipe.hpp"
#include "web/screens/match_parts.hpp"
#include "web/widgets/controls.hpp"

#include <algorithm>

namespace hangtime::screens {

using ui::Box;
using ui::Face;
using ui::Ui;

namespace {

std::string day_and_time(const LabelTime& t) {
    const auto two = [](int n) { return std::string(n < 10 ? "0" : "") + std::to_string(n); };
    return std::to_string(t.at.year) + "-" + two(t.at.month) + "-" + two(t.at.day) +
           (t.end_of_day ? ", end of the day" : " " + two(t.at.hour) + ":" + two(t.at.minute));
}

} // namespace

// --- what was read --------------------------------------------------------------------------------------

bool BagAndTag::anything_read() const {
    return !(bag_ == UnitData{}) || !(tag_ == UnitData{});
}

void BagAndTag::forget() {
    input::wipe(bag_);
    input::wipe(tag_);
    signs_.clear();
    form_.clear();
    asked_ = false;
    side_ = Side::bag;
    typing_ = Typing::nothing;
    said_.clear();
    typed_said_.clear();
    confirmed_.reset();
    wished_.reset();
    close_unit_ = false;
    waiving_ = false;
    waive_reason_ = waive_role_ = -1;
    judged_.reset();
    open_ = false;
}

void BagAndTag::open(Ui& ui) {
    open_ = true;
    ui.scroll_to_top("read");
    ui.scroll_to_top("tag.scroll");
    ui.change_screen();
}

void BagAndTag::close(Ui& ui) {
    open_ = false;
    typing_ = Typing::nothing;
    signs_.clear();
    form_.close(ui);
    ui.change_screen();
}

void BagAndTag::scan_leaked() {
    form_.give_back();
    signs_.clear(); // what stands there is not to be trusted
}

bool BagAndTag::take(const Scan& scan, Side side) {
    typed_said_.clear();
    if (!scan.understood()) {
        said_ = with_capital(name(scan.reason)) + ". " + std::string(sentence(scan.reason));
        return false;
    }
    return take(scan.data, side);
}

// The earliest expiry of several on one side wins: after thawing there are two on the bag.
bool BagAndTag::take(const LabelData& data, Side side) {
    UnitData& unit = unit_of(side);
    LabelData rest = data;
    rest.expiry.reset();
    const std::string where = std::string("the ") + std::string(name_of(side));
    if (!add_scan(unit, rest)) {
        said_ = "Not taken: " + where +
                " said something else before. Is it the other one? Choose bag or tag, and scan "
                "it again. Was it misread? Clear what was read of " +
                where + ".";
        return false;
    }
    unit.expiry = earliest_expiry(unit.expiry, data.expiry);
    if (!(comparison().expiry == confirmed_))
        confirmed_.reset();
    std::string what;
    const auto add = [&](bool there, std::string_view field) {
        if (there)
            what.append(what.empty() ? "" : ", ").append(field);
    };
    add(data.number.has_value(), "number");
    add(data.product.has_value(), "product code");
    add(data.group.has_value(), "group");
    add(data.expiry.has_value(), "expiry");
    said_ = what.empty() ? "Label data, but nothing that is compared here."
                         : "Read on " + where + ": " + what + ". Confirm it against the label.";
    if (data.number && !data.number_checked)
        said_ += " The bar code carries no check: read the number aloud.";
    return true;
}

// --- a frame --------------------------------------------------------------------------------------------

void BagAndTag::build(Ui& ui, Box body, Box foot, const Context& context) {
    if (!asked_)
        ask(context.age);
    form_.tell_time(context.now, context.wall, context.day);
    const bool beside = body.w >= ui.px(860) && body.w > body.h;
    const bool docked = typing_ != Typing::nothing || form_.editing();
    Box right{};
    if (beside) {
        right = body;
        right.cut_left(body.w * 0.54f);
        body.w = body.w * 0.54f - ui.px(24);
    } else if (docked) {
        right = body.cut_bottom(std::min(body.h * 0.92f, dock_height(ui, body.w)), ui.px(12));
    }
    const float gap = ui.px(12);
    const Box in = ui.begin_scroll("read", body);
    Box rest{in.x, in.y, in.w - ui.px(12), 1e6f};
    const float top = rest.y;
    // What is being entered stays in sight.
    const bool person = form_.editing();
    if (person && !said_.empty())
        rest.cut_top(ui::caution(ui, "read.said", rest, "", said_), gap);
    if (!person)
        rest.cut_top(read_part(ui, rest, context), gap);
    if (person || !beside)
        rest.cut_top(person_part(ui, rest, context), gap);
    ui.end_scroll(rest.y - top);
    if (docked) {
        dock(ui, right);
    } else if (beside) {
        const Box there = ui.begin_scroll("tag.scroll", right);
        Box column{there.x, there.y, there.w - ui.px(12), 1e6f};
        ui.end_scroll(person_part(ui, column, context));
    }
    const bool other_first = docked || differs() || to_be_settled(context);
    if (ui::button(ui, "read.back", foot, "Back", other_first ? ui::Look::plain : ui::Look::primary, true,
                   "Back to the session"))
        close(ui);
}

float BagAndTag::read_part(Ui& ui, Box box, const Context& context) {
    const float top = box.y, gap = ui.px(12), small_gap = ui.px(ui::gap_px);
    const UnitComparison c = comparison();
    box.cut_top(ui::paragraph(ui, "read.title", box,
                              "Scan or type: first the bag's own label, then the tag on it", Face::title),
                small_gap);
    Box sides = box.cut_top(ui.px(ui::row_px), small_gap);
    for (const Side side : {Side::bag, Side::tag})
        if (ui::choice(ui, side == Side::bag ? "side.bag" : "side.tag",
                       sides.cell(2, 1, static_cast<int>(side), 0, small_gap),
                       side == Side::bag ? "The bag's own label" : "The tag on the bag", side_ == side)) {
            side_ = side;
            if (typing_ != Typing::nothing)
                stop_typing(ui);
        }
    const std::string what =
        said_.empty() ? "Nothing is filled in for the tag by the bag: each is read for itself." : said_;
    box.cut_top(ui::caution(ui, "read.said", box, "", what), gap);
    if (c.unit == Agreement::differs) {
        box.cut_top(sealed(ui, "read.verdict", box, ui::Seal::broken, "Bag and tag differ",
                           sentence(MatchStanding::differed)),
                    gap);
        if (context.may_close && ui::button(ui, "read.close_unit", box.cut_top(ui.px(ui::row_px), gap),
                                            "Close this unit", typing_ == Typing::nothing ? ui::Look::primary : ui::Look::plain,
                                            context.writes))
            close_unit_ = true;
    } else if (c.unit == Agreement::same) {
        box.cut_top(sealed(ui, "read.verdict", box, ui::Seal::whole, "Bag and tag say the same",
                           "That is the unit. Whose it is follows from the match at the bedside."),
                    gap);
    }
    box.cut_top(fields_side_by_side(ui, box, "read.field.", c), 0);
    if (!differs()) // one difference ends it: nothing of it is confirmed
        box.cut_top(expiry_part(ui, box, context), gap);
    ui::subheading(ui, "type.heading", box.cut_top(ui.line_height(Face::small), ui.px(4)),
                   side_ == Side::bag ? "Type what the bag's own label says" : "Type what the tag says");
    struct Way {
        std::string_view id, label;
        Typing what;
    };
    static constexpr Way ways[] = {{"type.number", "Number", Typing::number},
                                   {"type.product", "Product code", Typing::product},
                                   {"type.group", "Group", Typing::group},
                                   {"type.expiry", "Expiry", Typing::expiry}};
    Box keys = box.cut_top(2 * ui.px(ui::row_px) + small_gap, small_gap);
    for (int i = 0; i < 4; ++i)
        if (ui::button(ui, ways[i].id, keys.cell(2, 2, i % 2, i / 2, small_gap), ways[i].label))
            type(ui, ways[i].what);
    if (ui::button(ui, "read.clear", box.cut_top(ui.px(ui::row_px), gap),
                   side_ == Side::bag ? "Clear what was read of the bag" : "Clear what was read of the tag",
                   ui::Look::plain, !(unit_of(side_) == UnitData{}))) {
        input::wipe(unit_of(side_));
        said_.clear();
    }
    return box.y - top;
}

// The earliest expiry, and what the record of the issue says. Somebody confirms it with the label in sight.
float BagAndTag::expiry_part(Ui& ui, Box box, const Context& context) {
    const float top = box.y, gap = ui.px(ui::gap_px);
    const std::optional<LabelTime> earliest = comparison().expiry;
    std::optional<BagDigits> digits;
    if (bag_.number) {
        digits.emplace();
        const std::string_view last = bag_.number->view().substr(bag_.number->view().size() - digits->size());
        std::copy(last.begin(), last.end(), digits->begin());
    }
    if (digits && context.digits && !(*digits == *context.digits))
        box.cut_top(ui::caution(ui, "read.other_digits", box, "Another number",
                                joined({"the issue was noted for a bag that ends in ",
                                        std::string_view(context.digits->data(), context.digits->size()),
                                        ". Is this the same bag?"})),
                    gap);
    if (!earliest && !digits)
        return box.y - top;
    std::string label = "The label says so:";
    if (digits)
        label += joined({" ends in ", std::string_view(digits->data(), digits->size())});
    if (earliest) {
        const Instant over = expires_at(*earliest, context.wall);
        if (over <= context.now)
            box.cut_top(sealed(ui, "read.expired", box, ui::Seal::broken, "It has expired",
                               sentence(MatchStanding::differed)),
                        gap);
        box.cut_top(
            ui::paragraph(
                ui, "read.earliest", box,
                "The earliest expiry counts: " + day_and_time(*earliest) +
                    ". Look at the label: a bar code can be older than a time that was written on the "
                    "bag. Type that one, if there is one."),
            gap);
        label += (digits ? ", expires " : " expires ") + day_and_time(*earliest);
    }
    const bool confirmed =
        earliest && confirmed_ == earliest && (!digits || !context.digits || *digits == *context.digits);
    if (confirmed) {
        box.cut_top(ui::paragraph(ui, "read.confirmed", box, "Confirmed against the label."), gap);
    } else if (ui::button(ui, "read.confirm", box.cut_top(ui.px(ui::row_px), gap), label, ui::Look::plain,
                          context.writes)) {
        Confirmed out;
        out.digits = digits;
        if (earliest) { // the end of a day is noted as its last minute, as it stands on labels
            const Instant over = expires_at(*earliest, context.wall);
            out.expires = Stated{earliest->end_of_day ? over - minutes(1) : over, Precision::minute};
        }
        wished_ = out;
        confirmed_ = earliest;
    }
    return box.y - top;
}

std::optional<BagAndTag::Confirmed> BagAndTag::take_confirmed() {
    const auto out = wished_;
    wished_.reset();
    return out;
}

bool BagAndTag::take_close_unit() {
    const bool out = close_unit_;
    close_unit_ = false;
    return out;
}

} // namespace hangtime::screens
