"""Our formulas' names on their way between .ods and .xlsx files."""

from evenheft.hosts.calc.file_names import as_open_documents_have_them, as_workbooks_have_them


def test_formulas_of_an_open_document_get_the_services_name_and_texts_do_not() -> None:
    written = (
        b'<c table:formula="of:=IF([.A1]=&quot;heft_points(1)&quot;;heft_points([.A1];Heft_Moment(1));MYHEFT_X(1))">'
        b"<text:p>=HEFT_POINTS(431, 75.3)</text:p></c>"
    )
    assert as_open_documents_have_them(written) == (
        b'<c table:formula="of:=IF([.A1]=&quot;heft_points(1)&quot;;EVENHEFT.FORMULAS.HEFT_POINTS([.A1];'
        b'EVENHEFT.FORMULAS.HEFT_MOMENT(1));MYHEFT_X(1))"><text:p>=HEFT_POINTS(431, 75.3)</text:p></c>'
    )


def test_a_name_that_is_there_already_is_left() -> None:
    served = b'<c table:formula="of:=EVENHEFT.FORMULAS.HEFT_POINTS([.A1])">'
    assert as_open_documents_have_them(served) == served


def test_a_result_that_only_the_add_in_could_tell_is_left_out() -> None:
    lost = (
        b'<table:table-cell table:style-name="a" table:formula="of:=heft_points([.A1])" office:value-type="string"'
        b' office:string-value="" calcext:value-type="error"><text:p>#NAME?</text:p>'
    )
    kept = b'<table:table-cell table:formula="of:=1+1" office:value-type="float" office:value="2">'
    assert as_open_documents_have_them(lost + kept) == (
        b'<table:table-cell table:style-name="a" table:formula="of:=EVENHEFT.FORMULAS.HEFT_POINTS([.A1])">'
        b"<text:p>#NAME?</text:p>" + kept
    )


def test_formulas_of_a_workbook_have_our_names_alone_and_in_capitals() -> None:
    written = (
        b'<f aca="false">IF(evenheft.formulas.heft_points(A1)&gt;1,"evenheft.formulas.heft_x(",heft_moment(1))</f>'
        b"<formula1>evenheft.formulas.heft_points (A1)</formula1><t>heft_points(1)</t>"
    )
    assert as_workbooks_have_them(written) == (
        b'<f aca="false">IF(HEFT_POINTS(A1)&gt;1,"evenheft.formulas.heft_x(",HEFT_MOMENT(1))</f>'
        b"<formula1>HEFT_POINTS (A1)</formula1><t>heft_points(1)</t>"
    )
