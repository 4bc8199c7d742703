#pragma once

/// The look at the bag before it is hung: what the eye looks for in each component. The words are in
/// core/words/match_words.hpp (`name`, `sentence`). One thing that is not right ends it: do not give, send
/// back, tell the blood bank. Common practice, no source beyond what JPAC handbook 4.10 lists.

#include "core/component.hpp"
#include "core/fixed_list.hpp"
#include "core/words/match_codes.hpp"

namespace hangtime {

FixedList<LookFor, look_for_count> look_list(Component component);

/// What was seen, one answer for each of `look_list`.
class LookResult {
public:
    void set(LookFor what, bool right) {
        seen_[static_cast<std::size_t>(what)] = right ? Agreement::same : Agreement::differs;
    }
    Agreement at(LookFor what) const { return seen_[static_cast<std::size_t>(what)]; }

    /// `same` when all that is looked for is right, `differs` when one is not, `cannot_tell` while one is
    /// still to be looked at.
    Agreement all(Component component) const;

private:
    Agreement seen_[look_for_count] = {
        Agreement::cannot_tell, Agreement::cannot_tell, Agreement::cannot_tell, Agreement::cannot_tell,
        Agreement::cannot_tell, Agreement::cannot_tell, Agreement::cannot_tell, Agreement::cannot_tell,
        Agreement::cannot_tell, Agreement::cannot_tell};
    static_assert(look_for_count == 10);
};

}  // namespace hangtime
