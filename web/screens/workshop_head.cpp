#include "web/screens/workshop.hpp"

#include <algorithm>
#include <array>

/// What a ward calls its rules, who issued them and when.

namespace hangtime::screens {

namespace {

// There is no free text: what a ward calls its rules is put together of these.
constexpr std::array<std::string_view, 14> ward_names = {
    "General ward",        "Day unit",         "Haematology and oncology ward", "Surgical ward",  "Medical ward",
    "Intensive care",      "Emergency department", "Theatre and recovery",     "Maternity ward", "Children's ward",
    "Newborn intensive care", "Renal unit",    "Care at home",                  "The whole hospital"};
constexpr std::array<std::string_view, 5> issuers = {"the ward's own rules", "the transfusion committee", "the blood bank",
                                                     "the department's medical lead", "the ward's lead nurse"};

// "General ward" and 12 -> "general-ward-12"
std::string key_of(std::string_view title) {
    std::string out;
    for (const char c : title) {
        const char low = c >= 'A' && c <= 'Z' ? static_cast<char>(c - 'A' + 'a') : c;
        if ((low >= 'a' && low <= 'z') || (low >= '0' && low <= '9'))
            out += low;
        else if (c != '\'' && !out.empty() && out.back() != '-')
            out += '-';
    }
    return out.substr(0, 40);
}

} // namespace

void Workshop::load_head() {
    const Protocol& p = edit_->protocol();
    std::vector<std::string> names = {p.title};
    for (const std::string_view ward : ward_names)
        names.emplace_back(ward);
    form_.choice("head.title", "Called", std::move(names), 0);
    form_.number("head.number", "Its number, if it has one", "", 3, 0, 1, 999, "1 to 999").empty = "none";
    std::vector<std::string> from = {p.issued_by};
    for (const std::string_view issuer : issuers)
        from.emplace_back(issuer);
    form_.choice("head.issued", "Issued by", std::move(from), 0);
    form_.code("head.revised", "Revised: year, month, day", 8).empty = "as it is";
    form_.choice("head.adopted", "Standing", {"An example, adopted by nobody", "Adopted by the ward"}, p.adopted ? 1 : 0);
    form_.choice("head.children", "For", {"Adults", "Children, by weight"}, p.children ? 1 : 0);
}

std::vector<EditChange> Workshop::entered_head() const {
    const Protocol& p = edit_->protocol();
    std::vector<EditChange> out;
    std::string title = form_.chosen("head.title") > 0
                            ? std::string(ward_names[static_cast<std::size_t>(form_.chosen("head.title") - 1)])
                            : p.title;
    if (const auto number = form_.number("head.number"))
        title += joined({" ", std::to_string(*number)});
    if (title != p.title) {
        out.push_back({"title", title});
        std::string id = key_of(title);
        const auto& all = page_has_examples_ ? protocols_ : examples_;
        if (std::any_of(all.begin(), all.end(), [&](const Protocol& e) { return e.id == id; }))
            id = ("own-" + id).substr(0, 40);
        out.push_back({"id", id});
    }
    if (form_.chosen("head.issued") > 0)
        out.push_back({"issued_by", std::string(issuers[static_cast<std::size_t>(form_.chosen("head.issued") - 1)])});
    if (const std::string_view date = form_.code("head.revised"); date.size() == 8)
        out.push_back({"revised", joined({date.substr(0, 4), "-", date.substr(4, 2), "-", date.substr(6, 2)})});
    out.push_back({"adopted", form_.chosen("head.adopted") == 1 ? "true" : "false"});
    out.push_back({"children", form_.chosen("head.children") == 1 ? "true" : "false"});
    return out;
}

} // namespace hangtime::screens
