#pragma once

/// A document of core/sheet on the screen: the same blocks in the same order as on paper.

#include "core/sheet/document.hpp"
#include "web/widgets/ui.hpp"

#include <string_view>

namespace hangtime::screens {

/// Draws it into the width of `box`, without its title; ids begin with `id`. Returns the height that it took; it
/// stands in a part that scrolls. A row of a table is one node: its cells, each behind its column's name.
float document_view(ui::Ui& ui, std::string_view id, ui::Box box, const sheet::Document& document);

} // namespace hangtime::screens
