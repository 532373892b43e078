//! The requests that are answered, each by the file that knows, and what the editor is told of them beforehand.

use lsp_server::ErrorCode;
use lsp_types::request::Request as _;
use lsp_types::{
    CodeActionOptions, CodeActionParams, CodeActionProviderCapability, CompletionOptions, CompletionParams,
    DocumentFormattingParams, DocumentSymbolParams, FoldingRangeParams, FoldingRangeProviderCapability,
    GotoDefinitionParams, HoverParams, HoverProviderCapability, InlayHintParams, OneOf, ReferenceParams, RenameOptions,
    RenameParams, SaveOptions, SemanticTokensFullOptions, SemanticTokensOptions, SemanticTokensParams,
    SemanticTokensServerCapabilities, ServerCapabilities, TextDocumentPositionParams, TextDocumentSyncCapability,
    TextDocumentSyncKind, TextDocumentSyncOptions, TextDocumentSyncSaveOptions, Uri, WorkDoneProgressOptions, request,
};
use serde::Serialize;
use serde::de::DeserializeOwned;
use serde_json::Value;

use super::sites::{FileOf, Sites};
use super::text::{Encoding, Lines};
use super::{Answer, actions, asked, colours, completion, hover, inlay, layout, names, outline, refusal, rename};
use crate::register_file;

/// What may be asked.
pub(crate) fn capabilities(encoding: Encoding) -> ServerCapabilities {
    ServerCapabilities {
        position_encoding: Some(encoding.kind()),
        text_document_sync: Some(TextDocumentSyncCapability::Options(TextDocumentSyncOptions {
            open_close: Some(true),
            change: Some(TextDocumentSyncKind::INCREMENTAL),
            save: Some(TextDocumentSyncSaveOptions::SaveOptions(SaveOptions { include_text: Some(false) })),
            ..TextDocumentSyncOptions::default()
        })),
        hover_provider: Some(HoverProviderCapability::Simple(true)),
        definition_provider: Some(OneOf::Left(true)),
        references_provider: Some(OneOf::Left(true)),
        document_symbol_provider: Some(OneOf::Left(true)),
        folding_range_provider: Some(FoldingRangeProviderCapability::Simple(true)),
        completion_provider: Some(CompletionOptions {
            trigger_characters: Some(["\"", "=", "("].map(str::to_owned).into()),
            ..CompletionOptions::default()
        }),
        document_formatting_provider: Some(OneOf::Left(true)),
        code_action_provider: Some(CodeActionProviderCapability::Options(CodeActionOptions {
            code_action_kinds: Some(actions::KINDS.into()),
            ..CodeActionOptions::default()
        })),
        rename_provider: Some(OneOf::Right(RenameOptions {
            prepare_provider: Some(true),
            work_done_progress_options: WorkDoneProgressOptions::default(),
        })),
        inlay_hint_provider: Some(OneOf::Left(true)),
        semantic_tokens_provider: Some(SemanticTokensServerCapabilities::SemanticTokensOptions(
            SemanticTokensOptions {
                legend: colours::legend(),
                full: Some(SemanticTokensFullOptions::Bool(true)),
                ..SemanticTokensOptions::default()
            },
        )),
        ..ServerCapabilities::default()
    }
}

/// Answers what an editor asks. Of a file that is not known there is nothing to tell.
pub(crate) fn answer(sites: &mut Sites, method: &str, params: Value) -> Answer {
    sites.refresh();
    let sites = &*sites;
    match method {
        request::HoverRequest::METHOD => asked(params, |params: HoverParams| {
            let (of, offset) = place(sites, &params.text_document_position_params)?;
            hover::at(sites, of, offset)
        }),
        request::Completion::METHOD => asked(params, |params: CompletionParams| {
            let (of, offset) = place(sites, &params.text_document_position)?;
            Some(completion::at(sites, of, offset))
        }),
        request::GotoDefinition::METHOD => asked(params, |params: GotoDefinitionParams| {
            let (of, offset) = place(sites, &params.text_document_position_params)?;
            names::definition(sites, of, offset)
        }),
        request::References::METHOD => asked(params, |params: ReferenceParams| {
            let (of, offset) = place(sites, &params.text_document_position)?;
            Some(names::references(sites, of, offset, params.context.include_declaration))
        }),
        request::DocumentSymbolRequest::METHOD => asked(params, |params: DocumentSymbolParams| {
            Some(outline::symbols(file(sites, &params.text_document.uri)?, sites.encoding))
        }),
        request::FoldingRangeRequest::METHOD => asked(params, |params: FoldingRangeParams| {
            Some(outline::folds(&file(sites, &params.text_document.uri)?.file.text, sites.encoding))
        }),
        request::Formatting::METHOD => asked(params, |params: DocumentFormattingParams| {
            layout::edits(&sites.text(&Sites::key(&params.text_document.uri))?.text, sites.encoding)
        }),
        request::CodeActionRequest::METHOD => asked(params, |params: CodeActionParams| {
            Some(actions::at(sites, file(sites, &params.text_document.uri)?, &params))
        }),
        request::PrepareRenameRequest::METHOD => offered(params, |params: TextDocumentPositionParams| {
            place(sites, &params).ok_or_else(unknown).and_then(|(of, offset)| rename::prepare(sites, of, offset))
        }),
        request::Rename::METHOD => offered(params, |params: RenameParams| {
            let (of, offset) = place(sites, &params.text_document_position).ok_or_else(unknown)?;
            rename::rename(sites, of, offset, &params.new_name)
        }),
        request::InlayHintRequest::METHOD => asked(params, |params: InlayHintParams| {
            Some(inlay::at(sites, file(sites, &params.text_document.uri)?, params.range))
        }),
        request::SemanticTokensFullRequest::METHOD => asked(params, |params: SemanticTokensParams| {
            let of = file(sites, &params.text_document.uri)?;
            Some(colours::of(&of.file.text, of.file.in_site == register_file::FILE, sites.encoding))
        }),
        _ => Err(refusal(ErrorCode::MethodNotFound, format!("{method} is not known here"))),
    }
}

/// Answers a request that may be refused for a reason.
fn offered<P: DeserializeOwned, R: Serialize>(params: Value, answer: impl FnOnce(P) -> Result<R, String>) -> Answer {
    let mut refused = None;
    let answered = asked(params, |params| answer(params).map_err(|reason| refused = Some(reason)).ok());
    refused.map_or(answered, |reason| Err(refusal(ErrorCode::RequestFailed, reason)))
}

fn unknown() -> String {
    "this file is not open".to_owned()
}

/// A file that is open or belongs to a site of which something is.
fn file<'s>(sites: &'s Sites, uri: &Uri) -> Option<FileOf<'s>> {
    sites.file(&Sites::key(uri))
}

/// A file and the byte of it at a place.
fn place<'s>(sites: &'s Sites, params: &TextDocumentPositionParams) -> Option<(FileOf<'s>, usize)> {
    let of = file(sites, &params.text_document.uri)?;
    Some((of, Lines::new(&of.file.text, sites.encoding).offset(params.position)))
}
